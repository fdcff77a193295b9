import { type Arranged, arrangeScore } from "./arrange-score.js";
import type { Findings } from "./diagnostics.js";
import type { ArrangeOptions } from "./options/options.js";
import { readScore } from "./read-score.js";
import type { WishesFile } from "./wishes/wishes-file.js";
import { scoreFile } from "./xml/container.js";
import type { XmlDocument } from "./xml/xml-tree.js";

/** A guitar score as the bytes of a file, with what it was made from. */
export interface ArrangedBytes extends Arranged {
  readonly bytes: Uint8Array;
}

/**
 * Arranges the bytes of a lead sheet, .musicxml or .mxl; the guitar score comes back as `target` asks.
 * `arrangeScore` with the container around it; still no file is touched.
 *
 * @throws ScoreError where the score cannot be read or arranged
 */
export const arrangeBytes = (
  bytes: Uint8Array,
  options: ArrangeOptions,
  findings: Findings,
  target: Target,
  wishes?: WishesFile,
): ArrangedBytes => arrangedBytes(readScore(bytes, findings), options, findings, target, wishes);

interface Target {
  readonly isCompressed: boolean;
}

/** The same of a lead sheet that was read already. */
export function arrangedBytes(
  document: XmlDocument,
  options: ArrangeOptions,
  findings: Findings,
  target: Target,
  wishes?: WishesFile,
): ArrangedBytes {
  const arranged = arrangeScore(document, options, findings, wishes);
  return { ...arranged, bytes: scoreFile(arranged.document, target.isCompressed) };
}

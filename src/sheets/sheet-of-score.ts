import { type Arranged, arrangeScore } from "../arrange-score.js";
import { Findings } from "../diagnostics.js";
import type { ArrangeOptions } from "../options/options.js";
import { handTrace } from "../reporting/hand-trace.js";
import type { WishesFile } from "../wishes/wishes-file.js";
import type { XmlDocument } from "../xml/xml-tree.js";
import { shapePages } from "./shape-sheet.js";
import { type Shown, stepsPages } from "./steps-sheet.js";

export type SheetKind = "shapes" | "steps";

/** Pages of a sheet, each an SVG of A4 in millimetres. */
export interface Sheet {
  readonly title: string;
  readonly pages: readonly string[];
}

/**
 * A sheet to learn an arrangement by: its shapes, the way to it in steps, or both. For the steps the score is
 * arranged once more, in the texture full. Pure.
 *
 * @throws ScoreError where the score cannot be arranged
 */
export function sheetOf(
  document: XmlDocument,
  options: ArrangeOptions,
  findings: Findings,
  wishes?: WishesFile,
  kinds: readonly SheetKind[] = ["steps", "shapes"],
): Sheet {
  const arranged = arrangeScore(document, options, findings, wishes);
  const graceful = shown(arranged, options);
  const title = arranged.report.title ?? "Untitled";
  return {
    title,
    pages: kinds.flatMap((kind) => {
      if (kind === "shapes") return shapePages(graceful.report, graceful.trace.neck);
      const full = { ...options, texture: "full" } as const;
      const draft = options.texture === "full" ? arranged : arrangeScore(document, full, new Findings());
      return stepsPages({
        draft: shown(draft, full),
        graceful,
        quartersPerMinute: options.tempo ?? arranged.sheet.tune.tempos[0]?.quartersPerMinute ?? TEMPO_UNSAID,
      });
    }),
  };
}

const TEMPO_UNSAID = 100;

const shown = ({ sheet, arrangement, report }: Arranged, options: ArrangeOptions): Shown => ({
  report,
  trace: handTrace(sheet, arrangement, options),
});

import {
  type Arranged,
  arrangeScore,
  completeOptions,
  Findings,
  readScore,
  type WishesFile,
  type XmlDocument,
} from "undervoice";
import type { GivenOptions } from "./core-messages.js";

/** A score that was opened, to be arranged as often as a person chooses. */
export interface TuneAtHand {
  readonly document: XmlDocument;
  /** @throws ScoreError, OptionsError as the command line says them */
  arrange(options: GivenOptions, wishes: WishesFile): Arranged;
}

/** How many arrangements are kept: one to be looked at, and the same as it is taken away. */
const KEPT = 2;

/**
 * Opens a score for a person who chooses: the one place where the page asks for an arrangement.
 *
 * @throws ScoreError where the bytes are no score
 */
export function tuneAtHand(bytes: Uint8Array): TuneAtHand {
  const aboutFile = new Findings();
  const document = readScore(bytes, aboutFile);
  let kept: readonly { readonly asked: string; readonly arranged: Arranged }[] = [];
  return {
    document,
    arrange(options, wishes) {
      const asked = JSON.stringify([options, wishes]);
      const before = kept.find((one) => one.asked === asked);
      if (before !== undefined) return before.arranged;
      const findings = new Findings();
      for (const finding of aboutFile.all) findings.add(finding);
      const arranged = arrangeScore(document, completeOptions(options), findings, wishes);
      kept = [{ asked, arranged }, ...kept].slice(0, KEPT);
      return arranged;
    },
  };
}

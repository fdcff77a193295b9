import { NO_SHIFT } from "../timeline/transposition.js";
import type { LeadSheetSource, WrittenTransposition } from "./lead-sheet.js";

/** How the melody's staff moves from written to sounding at a tick. */
export const transpositionInForce = (
  { transpositions }: Pick<LeadSheetSource, "transpositions">,
  tick: number,
): WrittenTransposition => transpositions.findLast(({ at }) => at <= tick) ?? NO_SHIFT;

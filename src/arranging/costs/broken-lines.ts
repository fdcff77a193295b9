import type { SungLine } from "../grips/candidate.js";
import type { SungWeights } from "./cost-table.js";

/** Points for voices that go to another octave from one grip to the next: their singers make no such leap. */
export function brokenLines(
  from: readonly SungLine[] | undefined,
  to: readonly SungLine[] | undefined,
  { lineBroken }: SungWeights,
): number {
  if (from === undefined || to === undefined) return 0;
  let points = 0;
  for (const { voice, octaves } of to)
    for (const before of from) if (before.voice === voice && before.octaves !== octaves) points += lineBroken;
  return points;
}

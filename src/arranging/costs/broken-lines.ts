import type { SungLines } from "../grips/candidate.js";
import type { SungWeights } from "./cost-table.js";

/** Points for voices that go to another octave from one grip to the next: their singers make no such leap. */
export function brokenLines(
  from: SungLines | undefined,
  to: SungLines | undefined,
  { lineBroken }: SungWeights,
): number {
  if (from === undefined || to === undefined) return 0;
  let points = 0;
  for (const line of to)
    for (const before of from)
      if (line !== undefined && before?.voice === line.voice && before.octaves !== line.octaves)
        points += lineBroken;
  return points;
}

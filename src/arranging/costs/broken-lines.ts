import type { Candidate } from "../candidate.js";
import type { SungWeights } from "./cost-table.js";

/** Points for voices that go to another octave from one grip to the next: their singers make no such leap. */
export function brokenLines(
  from: Candidate | undefined,
  to: Candidate | undefined,
  { lineBroken }: SungWeights,
): number {
  if (from?.lines === undefined || to?.lines === undefined) return 0;
  let points = 0;
  for (const { voice, octaves } of to.lines)
    for (const before of from.lines)
      if (before.voice === voice && before.octaves !== octaves) points += lineBroken;
  return points;
}

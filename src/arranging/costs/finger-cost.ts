import { fretOfUse, highestStringOfUse, lowestStringOfUse } from "../grips/finger-use.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { FingerChangeWeights } from "./cost-table.js";

/** Points for what each finger does: one that stays is free, one that slides along its string is cheap, one that crosses is dear. */
export function fingerChangeCost(
  earlier: PackedColumn,
  from: number,
  later: PackedColumn,
  to: number,
  weights: FingerChangeWeights,
): number {
  let points = 0;
  for (let finger = 0; finger < 4; finger += 1) {
    const after = later.fingers[to * 4 + finger] ?? 0;
    if (after === 0) continue;
    const before = earlier.fingers[from * 4 + finger] ?? 0;
    if (before === after) continue;
    if (before === 0) points += weights.putDown;
    else if (!sharesString(before, after)) points += weights.crossed;
    else points += fretOfUse(before) === fretOfUse(after) ? weights.barreChanged : weights.slid;
  }
  return points;
}

const sharesString = (one: number, other: number): boolean =>
  highestStringOfUse(one) <= lowestStringOfUse(other) && highestStringOfUse(other) <= lowestStringOfUse(one);

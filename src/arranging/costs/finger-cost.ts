import { fretOfUse, highestStringOfUse, lowestStringOfUse } from "../grips/finger-use.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { FingerChangeWeights } from "./cost-table.js";

/**
 * Points for what each finger does: one that stays is free, one that slides along its string is cheap, one that
 * crosses is dear; so is one that takes over from another what stays where it is.
 */
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
    else if (fretOfUse(before) !== fretOfUse(after)) points += weights.slid;
    else {
      points += weights.barreChanged;
      if (isFlatFingerRaised(before, later, to, finger)) points += weights.flatFingerRaised;
    }
    if (takesOver(earlier, from, finger, after)) points += weights.exchanged;
  }
  return points;
}

/** Whether another finger was where this one goes. */
function takesOver(earlier: PackedColumn, from: number, finger: number, after: number): boolean {
  const fret = fretOfUse(after);
  for (let other = 0; other < 4; other += 1) {
    const was = earlier.fingers[from * 4 + other] ?? 0;
    if (fretOfUse(was) === fret && other !== finger && sharesString(was, after)) return true;
  }
  return false;
}

/** Whether a lower finger stops, behind a finger that stays, one of the strings that it lay across. */
function isFlatFingerRaised(before: number, later: PackedColumn, to: number, finger: number): boolean {
  for (let lower = 0; lower < finger; lower += 1) {
    const behind = later.fingers[to * 4 + lower] ?? 0;
    if (behind !== 0 && sharesString(before, behind)) return true;
  }
  return false;
}

const sharesString = (one: number, other: number): boolean =>
  highestStringOfUse(one) <= lowestStringOfUse(other) && highestStringOfUse(other) <= lowestStringOfUse(one);

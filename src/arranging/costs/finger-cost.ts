import type { Candidate } from "../candidate.js";
import type { FingerChangeWeights } from "./cost-table.js";

/** Points for what each finger does: one that stays is free, one that slides along its string is cheap, one that crosses is dear. */
export function fingerChangeCost(from: Candidate, to: Candidate, weights: FingerChangeWeights): number {
  let points = 0;
  for (let finger = 1; finger <= 4; finger += 1) {
    const fret = to.fretOfFinger[finger] ?? 0;
    if (fret === 0) continue;
    const oldFret = from.fretOfFinger[finger] ?? 0;
    if (oldFret === 0) {
      points += weights.putDown;
      continue;
    }
    const toTop = to.toOfFinger[finger] ?? 0;
    const toBottom = to.fromOfFinger[finger] ?? 0;
    const fromTop = from.toOfFinger[finger] ?? 0;
    const fromBottom = from.fromOfFinger[finger] ?? 0;
    const sharesString = toTop <= fromBottom && fromTop <= toBottom;
    if (!sharesString) points += weights.crossed;
    else if (fret !== oldFret) points += weights.slid;
    else if (toTop !== fromTop || toBottom !== fromBottom) points += weights.barreChanged;
  }
  return points;
}

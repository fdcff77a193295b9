import { TIRING_BARRE_STRINGS } from "../../guitar/fingering.js";
import type { Candidate } from "../candidate.js";
import type { MoveWeights } from "./cost-table.js";

/** How fast the hand may travel, and what going faster costs: where no other way exists it is done and reported. */
export interface MoveLimit {
  /** Millimetres a second along the neck. */
  readonly mmPerSecond: number;
  readonly tooFast: number;
}

/**
 * Points for getting from one grip to the next in a given time. A finger
 * that stays is free, one that slides along its string is cheap, one that crosses is dear; the hand's
 * travel is weighed against the time there is.
 */
export function moveCost(
  from: Candidate,
  to: Candidate,
  seconds: number,
  weights: MoveWeights,
  limit: MoveLimit,
): number {
  const travel = travelMm(from, to);
  let points = 0;
  if (travel > 0) {
    if (travel > limit.mmPerSecond * seconds) points += limit.tooFast;
    const hurry = Math.max(0, weights.unhurriedSeconds - seconds) * 10 * weights.hurryEachTenth;
    points += travel * weights.travelEachMm * (1 + hurry);
  }
  for (let finger = 1; finger <= 4; finger += 1) {
    const fret = to.fretOfFinger[finger] ?? 0;
    if (fret === 0) continue;
    const oldFret = from.fretOfFinger[finger] ?? 0;
    if (oldFret === 0) {
      points += weights.fingerPutDown;
      continue;
    }
    const toTop = to.toOfFinger[finger] ?? 0;
    const toBottom = to.fromOfFinger[finger] ?? 0;
    const fromTop = from.toOfFinger[finger] ?? 0;
    const fromBottom = from.fromOfFinger[finger] ?? 0;
    const sharesString = toTop <= fromBottom && fromTop <= toBottom;
    if (!sharesString) points += weights.fingerCrossed;
    else if (fret !== oldFret) points += weights.fingerSlid;
    else if (toTop !== fromTop || toBottom !== fromBottom) points += weights.barreChanged;
  }
  if (to.attack !== "held") points += voiceLeading(from, to) * weights.voiceEachSemitone;
  const isBare = to.degrees.length === 0;
  const wasBare = from.degrees.length === 0;
  if (isBare !== wasBare) points += weights.inAndOutOfHarmony;
  return Math.round(points);
}

/** Whether a finger bars so many strings that holding it tires the hand. */
export const isTiring = ({ fromOfFinger, toOfFinger }: Candidate): boolean =>
  fromOfFinger.some((from, finger) => from - (toOfFinger[finger] ?? 0) + 1 >= TIRING_BARRE_STRINGS);

/** How far the hand travels along the neck between two grips, mm; 0 where one of them leaves it free. */
export function travelMm(from: Candidate, to: Candidate): number {
  if (from.placeMm === undefined || to.placeMm === undefined) return 0;
  return Math.abs(to.placeMm - from.placeMm);
}

/** Semitones that the supporting voices move, matched from the top. */
function voiceLeading(from: Candidate, to: Candidate): number {
  const shared = Math.min(from.midis.length, to.midis.length);
  let moved = 0;
  for (let below = 2; below <= shared; below += 1) {
    const before = from.midis[from.midis.length - below] ?? 0;
    const after = to.midis[to.midis.length - below] ?? 0;
    moved += Math.min(12, Math.abs(after - before));
  }
  return moved;
}

import {
  fingerPair,
  fretDistanceMm,
  handSizeOf,
  isInReach,
  reachSizeOf,
  strainMm,
} from "../guitar/hand-reach.js";
import type { Instrument } from "../guitar/instrument.js";
import { type HeldString, isStruckAt, type Moment } from "./moments.js";

/** Two strings stopped at one moment, at least one of them struck then; `a` has the lower finger, or of one finger the lower fret. */
export interface FingerPairHeld {
  readonly a: HeldString & { readonly finger: 1 | 2 | 3 | 4 };
  readonly b: HeldString & { readonly finger: 1 | 2 | 3 | 4 };
}

/**
 * Pairs of fingered strings whose fault, if any, arises at this moment: two that both ring on were there
 * at an earlier one.
 */
export function fingerPairs(moment: Moment): readonly FingerPairHeld[] {
  const fingered = moment.held
    .filter((one): one is FingerPairHeld["a"] => one.fret > 0 && one.finger !== undefined && one.finger > 0)
    .toSorted((one, other) => one.finger - other.finger || one.fret - other.fret);
  return fingered.flatMap((a, index) =>
    fingered
      .slice(index + 1)
      .filter((b) => isStruckAt(moment, a) || isStruckAt(moment, b))
      .map((b) => ({ a, b })),
  );
}

export type PairFault = "two-frets" | "order" | "reach";

/** What makes a pair impossible; undefined where a hand can hold it. */
export function faultOf(instrument: Instrument, { a, b }: FingerPairHeld): PairFault | undefined {
  if (a.finger === b.finger) return a.fret === b.fret ? undefined : "two-frets";
  if (b.fret < a.fret) return "order";
  const isReached = isInReach(
    fingerPair(a.finger, b.finger),
    pairMm(instrument, { a, b }),
    reachSizeOf(instrument),
  );
  return isReached ? undefined : "reach";
}

/** Distance along the neck. */
export const pairMm = (instrument: Instrument, { a, b }: FingerPairHeld): number =>
  fretDistanceMm(instrument, a.fret, b.fret);

/** By how many mm a pair is beyond its relaxed span. */
export const pairStrainMm = (instrument: Instrument, { a, b }: FingerPairHeld): number =>
  a.finger === b.finger
    ? 0
    : strainMm(fingerPair(a.finger, b.finger), pairMm(instrument, { a, b }), handSizeOf(instrument));

import type { SoundingString } from "./fingering.js";
import type { Finger } from "./grip.js";
import {
  beyondFiveFretsMm,
  beyondTempoMm,
  FRETS_IN_POSITION,
  fingerPair,
  fretDistanceMm,
  handSizeOf,
} from "./hand-reach.js";
import type { Instrument } from "./instrument.js";

/** By how many mm the widest pair of fingers of a grip is beyond what is reached at tempo; 0 where none is. */
export function beyondTempoReachMm(
  instrument: Instrument,
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
): number {
  let most = 0;
  for (let lower = 1; lower < 4; lower += 1) {
    const low = strings[fingers.indexOf(lower as Finger)]?.fret;
    if (low === undefined) continue;
    for (let higher = lower + 1; higher <= 4; higher += 1) {
      const high = strings[fingers.indexOf(higher as Finger)]?.fret;
      if (high === undefined) continue;
      const apart = fretDistanceMm(instrument, low, high);
      most = Math.max(most, beyondTempoMm(fingerPair(lower, higher), apart, handSizeOf(instrument)));
      if (Math.abs(high - low) >= FRETS_IN_POSITION)
        most = Math.max(most, beyondFiveFretsMm(apart, handSizeOf(instrument)));
    }
  }
  return most;
}

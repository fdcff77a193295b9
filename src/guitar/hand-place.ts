import type { SoundingString } from "./fingering.js";
import type { Finger } from "./grip.js";
import { fretPlacesMm } from "./hand-reach.js";
import type { Instrument } from "./instrument.js";

/**
 * Where the hand is on the neck: the index finger's place, mm from the nut, in a hand at ease that fits all
 * its fingers best. A hand at ease lays one finger a fret; each finger that is down says where the index would
 * then be, and the mean of them is the best fit. So a finger that is stretched away draws the hand after it,
 * and a stretch is no way to move without moving. Fingers closer together than a fret apart are still at ease
 * and draw nothing. Never behind the first fret; undefined where no string is stopped.
 */
export function handPlaceMm(
  instrument: Instrument,
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
): number | undefined {
  const places = fretPlacesMm(instrument);
  let lowest: number | undefined;
  let sum = 0;
  let count = 0;
  for (let finger = 1; finger <= 4; finger += 1) {
    const index = fingers.indexOf(finger as Finger);
    const fret = strings[index]?.fret;
    if (fret === undefined) continue;
    const place = places[Math.max(1, fret - (finger - 1))] ?? 0;
    lowest ??= place;
    sum += Math.max(lowest, place);
    count += 1;
  }
  return count === 0 ? undefined : sum / count;
}

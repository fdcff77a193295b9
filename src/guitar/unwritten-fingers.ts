import { barresOf, isAnyTwice, type SoundingString } from "./fingering.js";
import type { Finger } from "./grip.js";
import type { Instrument } from "./instrument.js";

/**
 * Whether a hand could hold some strings with these fingers and hardly anyone writes so. Counted of 239 printed chords
 * of the public domain and 2,056 fingered shapes of the open collection chords-db.
 */
export const isUnwritten = (
  { barres = "all" }: Pick<Instrument, "barres">,
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
): boolean =>
  areCrossed(strings, fingers) ||
  isBarredOddly(strings, fingers) ||
  (barres === "all" && isLowestFretShared(strings, fingers));

/** Whether at one fret a higher finger is on a lower-pitched string than a lower one: 7 of all. */
function areCrossed(strings: readonly SoundingString[], fingers: readonly Finger[]): boolean {
  for (let index = 0; index < strings.length; index += 1) {
    for (let at = 0; at < strings.length; at += 1) {
      const one = strings[index];
      const other = strings[at];
      if (one === undefined || other === undefined || one.fret !== other.fret) continue;
      if (one.string > other.string && (fingers[index] ?? 0) > (fingers[at] ?? 0)) return true;
    }
  }
  return false;
}

/**
 * Whether another finger than the index bars where the index would, at the lowest fret: none of 209 such barres in
 * chords-db; or across a string that is silent: 1 of 209.
 */
function isBarredOddly(strings: readonly SoundingString[], fingers: readonly Finger[]): boolean {
  if (!isAnyTwice(fingers)) return false;
  const lowest = lowestStopped(strings);
  return barresOf(strings, fingers).some((barre) => {
    if (barre.finger === 1) return false;
    const across = strings.filter(({ string }) => string <= barre.from && string >= barre.to);
    return barre.fret === lowest || across.length <= barre.from - barre.to;
  });
}

/** The lowest fret that is stopped; Infinity where none is. */
function lowestStopped(strings: readonly SoundingString[]): number {
  let lowest = Number.POSITIVE_INFINITY;
  for (const { fret } of strings) if (fret > 0 && fret < lowest) lowest = fret;
  return lowest;
}

/**
 * Whether fingers share the lowest fret where one takes all of it. A barre there has no finger beside it: 4 of 1,126.
 * Nor does another finger bar further up: 4 of 233 that share it. Three strings there and another further up, all of
 * the grip stopped, are one barre: 567 of 567.
 */
function isLowestFretShared(strings: readonly SoundingString[], fingers: readonly Finger[]): boolean {
  const lowest = lowestStopped(strings);
  let first: Finger = 0;
  let isShared = false;
  let there = 0;
  let stopped = 0;
  for (let index = 0; index < strings.length; index += 1) {
    const fret = strings[index]?.fret ?? 0;
    if (fret > 0) stopped += 1;
    if (fret !== lowest) continue;
    there += 1;
    const finger = fingers[index] ?? 0;
    if (first === 0) first = finger;
    isShared ||= finger !== first;
  }
  if (!isShared) return false;
  return isAnyTwice(fingers) || (stopped === strings.length && there > 2 && stopped > 3);
}

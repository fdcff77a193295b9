import { barresOf, type SoundingString } from "./fingering.js";
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
const areCrossed = (strings: readonly SoundingString[], fingers: readonly Finger[]): boolean =>
  strings.some((one, index) =>
    strings.some(
      (other, at) =>
        one.fret === other.fret && one.string > other.string && (fingers[index] ?? 0) > (fingers[at] ?? 0),
    ),
  );

/**
 * Whether another finger than the index bars where the index would, behind the fingers in front: none of 209 such barres
 * in chords-db; or across a string that is silent: 1 of 209.
 */
function isBarredOddly(strings: readonly SoundingString[], fingers: readonly Finger[]): boolean {
  const lowest = Math.min(...strings.map(({ fret }) => fret).filter((fret) => fret > 0));
  return barresOf(strings, fingers).some((barre) => {
    if (barre.finger === 1) return false;
    const isBehind = barre.fret === lowest && strings.some(({ fret }) => fret > lowest);
    const across = strings.filter(({ string }) => string <= barre.from && string >= barre.to);
    return isBehind || across.length <= barre.from - barre.to;
  });
}

/**
 * Whether fingers share the lowest fret where one takes all of it. A barre there has no finger beside it: 4 of 1,126.
 * Nor does another finger bar further up: 4 of 233 that share it. Three strings there and another further up, all of
 * the grip stopped, are one barre: 567 of 567.
 */
function isLowestFretShared(strings: readonly SoundingString[], fingers: readonly Finger[]): boolean {
  const stopped = strings.map(({ fret }) => fret).filter((fret) => fret > 0);
  const lowest = Math.min(...stopped);
  const there = fingers.filter((_, index) => strings[index]?.fret === lowest);
  if (new Set(there).size < 2) return false;
  const stopping = fingers.filter((finger) => finger > 0);
  const isAllStopped = stopped.length === strings.length;
  return new Set(stopping).size < stopping.length || (isAllStopped && there.length > 2 && stopped.length > 3);
}

import type { Finger } from "./grip.js";
import { fretDistanceMm, isInReach } from "./hand-reach.js";
import type { Instrument } from "./instrument.js";

/** A string that sounds: stopped at a fret of 1 or more, or open at 0. */
export interface SoundingString {
  readonly string: number;
  readonly fret: number;
}

/** One finger across two or more strings. `from` is the highest-numbered string, `to` the lowest-numbered. */
export interface BarreUse {
  readonly finger: Finger;
  readonly fret: number;
  readonly from: number;
  readonly to: number;
}

/** Widest barre of each finger in strings: the index lies flat, the others bend back at the last joint. Common practice. */
const WIDEST_BARRE: readonly number[] = [0, 6, 3, 4, 3];

/**
 * Every way a left hand can hold some strings: one finger for each, in the order given, 0 for open strings.
 * Every stopped note has a finger; a higher fret never takes a lower finger; one finger stops several
 * strings only at one fret and with nothing lower sounding under it; each pair of fingers is in reach.
 */
export function fingeringsOf(
  instrument: Instrument,
  strings: readonly SoundingString[],
): readonly (readonly Finger[])[] {
  const found: Finger[][] = [];
  const fingers: Finger[] = strings.map(() => 0);
  const order = strings
    .map((_, index) => index)
    .filter((index) => fretAt(strings, index) > 0)
    .sort((a, b) => fretAt(strings, a) - fretAt(strings, b) || stringAt(strings, b) - stringAt(strings, a));
  const place = (step: number): void => {
    const index = order[step];
    if (index === undefined) {
      if (barresOf(strings, fingers).every((barre) => isBarrePossible(barre, strings)))
        found.push([...fingers]);
      return;
    }
    for (const finger of [1, 2, 3, 4] as const) {
      const goesWith = order.slice(0, step).every((other) => {
        const otherFinger = fingers[other] ?? 0;
        const fret = fretAt(strings, index);
        const otherFret = fretAt(strings, other);
        if (fret === otherFret) return true; // two fingers side by side, or one across
        if (otherFinger >= finger) return false;
        return isInReach(otherFinger, finger, fretDistanceMm(instrument, otherFret, fret));
      });
      if (!goesWith) continue;
      fingers[index] = finger;
      place(step + 1);
      fingers[index] = 0;
    }
  };
  place(0);
  return found;
}

/** Whether a hand can hold some strings with given fingers, by the rules of `fingeringsOf`. */
export function isHoldable(
  instrument: Instrument,
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
): boolean {
  for (const [i, one] of strings.entries()) {
    const finger = fingers[i] ?? 0;
    if (finger > 0 !== one.fret > 0) return false;
    if (finger === 0) continue;
    for (const [j, other] of strings.entries()) {
      const otherFinger = fingers[j] ?? 0;
      if (otherFinger === 0 || other.fret <= one.fret) continue;
      if (otherFinger <= finger) return false;
      if (!isInReach(finger, otherFinger, fretDistanceMm(instrument, one.fret, other.fret))) return false;
    }
  }
  return barresOf(strings, fingers).every((barre) => isBarrePossible(barre, strings));
}

/** The fingers that stop more than one string, index first. */
export function barresOf(
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
): readonly BarreUse[] {
  return ([1, 2, 3, 4] as const).flatMap((finger) => {
    const held = strings.filter((_, index) => fingers[index] === finger);
    const first = held[0];
    if (first === undefined || held.length < 2) return [];
    const numbers = held.map((note) => note.string);
    return [{ finger, fret: first.fret, from: Math.max(...numbers), to: Math.min(...numbers) }];
  });
}

function isBarrePossible(barre: BarreUse, strings: readonly SoundingString[]): boolean {
  if (barre.from - barre.to + 1 > (WIDEST_BARRE[barre.finger] ?? 0)) return false;
  return strings.every(
    (note) => note.string > barre.from || note.string < barre.to || note.fret >= barre.fret,
  );
}

const fretAt = (strings: readonly SoundingString[], index: number): number => strings[index]?.fret ?? 0;
const stringAt = (strings: readonly SoundingString[], index: number): number => strings[index]?.string ?? 0;

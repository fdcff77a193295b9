import type { Finger } from "./grip.js";
import { fingerPair, fretPlacesMm, isInReach, reachSizeOf } from "./hand-reach.js";
import type { BarresAllowed, Instrument } from "./instrument.js";

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

/** Strings from which on a barre tires the hand that holds it. Our own: no source found gives a figure. */
export const TIRING_BARRE_STRINGS = 3;

const FINGERS = [1, 2, 3, 4] as const;

/** Widest barre of each finger in strings: the index lies flat, the others bend back at the last joint. Common practice. */
const WIDEST_BARRE: Readonly<Record<BarresAllowed, readonly number[]>> = {
  all: [0, 6, 3, 4, 3],
  partial: [0, 3, 1, 1, 1],
  none: [0, 1, 1, 1, 1],
};

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
  const neck = neckOf(instrument);
  // From the lowest fret up, and at one fret from the lowest-pitched string: the way fingers are counted.
  const stopped = strings
    .map(({ string, fret }, index) => ({ string, fret, index }))
    .filter(({ fret }) => fret > 0)
    .sort((a, b) => a.fret - b.fret || b.string - a.string);
  const place = (step: number): void => {
    const note = stopped[step];
    if (note === undefined) {
      if (areBarresPossible(instrument, strings, fingers)) found.push([...fingers]);
      return;
    }
    for (const finger of FINGERS) {
      let isFree = true;
      for (let before = 0; before < step && isFree; before += 1) {
        const other = stopped[before];
        if (other !== undefined)
          isFree = inOrder(neck, other.fret, fingers[other.index] ?? 0, note.fret, finger);
      }
      if (!isFree) continue;
      fingers[note.index] = finger;
      place(step + 1);
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
  for (let i = 0; i < strings.length; i += 1) {
    const fret = fretAt(strings, i);
    const finger = fingers[i] ?? 0;
    if (finger > 0 !== fret > 0) return false;
    if (finger === 0) continue;
    for (let j = 0; j < i; j += 1) {
      const otherFret = fretAt(strings, j);
      const otherFinger = fingers[j] ?? 0;
      if (otherFret === 0) continue;
      if (!goTogether(instrument, otherFret, otherFinger, fret, finger)) return false;
    }
  }
  return areBarresPossible(instrument, strings, fingers);
}

/** The fingers that stop more than one string, index first. */
export function barresOf(
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
): readonly BarreUse[] {
  return FINGERS.flatMap((finger) => barreOf(finger, strings, fingers) ?? []);
}

function barreOf(
  finger: Finger,
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
): BarreUse | undefined {
  let count = 0;
  let fret = 0;
  let from = 0;
  let to = Number.POSITIVE_INFINITY;
  for (let index = 0; index < strings.length; index += 1) {
    const note = strings[index];
    if (note === undefined || fingers[index] !== finger) continue;
    count += 1;
    fret = note.fret;
    from = Math.max(from, note.string);
    to = Math.min(to, note.string);
  }
  return count < 2 ? undefined : { finger, fret, from, to };
}

/** Whether two stopped notes can be held together as far as these two fingers go. */
export const goTogether = (
  instrument: Instrument,
  fret: number,
  finger: number,
  otherFret: number,
  otherFinger: number,
): boolean =>
  fret < otherFret
    ? inOrder(neckOf(instrument), fret, finger, otherFret, otherFinger)
    : inOrder(neckOf(instrument), otherFret, otherFinger, fret, finger);

/** What of an instrument bounds a hand along it: looked up once for many pairs of fingers. */
interface Neck {
  readonly placesMm: readonly number[];
  readonly reachSize: number;
}

const neckOf = (instrument: Instrument): Neck => ({
  placesMm: fretPlacesMm(instrument),
  reachSize: reachSizeOf(instrument),
});

/** Two stopped notes, the lower fret first: side by side or across at one fret, else in order and in reach. */
function inOrder(
  { placesMm, reachSize }: Neck,
  lowFret: number,
  lowFinger: number,
  highFret: number,
  highFinger: number,
): boolean {
  if (lowFret === highFret) return true;
  if (lowFinger >= highFinger) return false;
  const distanceMm = (placesMm[highFret] ?? 0) - (placesMm[lowFret] ?? 0);
  return isInReach(fingerPair(lowFinger, highFinger), distanceMm, reachSize);
}

function areBarresPossible(
  instrument: Instrument,
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
): boolean {
  if (!isAnyTwice(fingers)) return true;
  const widest = WIDEST_BARRE[instrument.barres ?? "all"];
  for (const finger of FINGERS) {
    const barre = barreOf(finger, strings, fingers);
    if (barre === undefined) continue;
    if (barre.from - barre.to + 1 > (widest[finger] ?? 0)) return false;
    for (const note of strings) {
      if (note.string < barre.from && note.string > barre.to && note.fret < barre.fret) return false;
    }
  }
  return true;
}

/** Whether any finger stops more than one string: most grips need no further look at barres. */
export function isAnyTwice(fingers: readonly Finger[]): boolean {
  let down = 0;
  for (const finger of fingers) {
    if (finger === 0) continue;
    if ((down & (1 << finger)) !== 0) return true;
    down |= 1 << finger;
  }
  return false;
}

const fretAt = (strings: readonly SoundingString[], index: number): number => strings[index]?.fret ?? 0;

import { barresOf, type SoundingString } from "./fingering.js";
import type { Finger } from "./grip.js";
import { fretDistanceMm, stretchMm } from "./hand-reach.js";
import { fretPositionMm, type Instrument } from "./instrument.js";

/** Weights of what makes a grip hard to hold; the table with its reasons is `arranging/cost-table.ts`. */
export interface HandWeights {
  readonly eachFinger: number;
  readonly littleFinger: number;
  readonly stretchEachMm: number;
  readonly awayFromNaturalEachMm: number;
  readonly fingersReversed: number;
  readonly indexBarre: number;
  readonly indexBarreEachString: number;
  readonly barreNearNut: number;
  readonly otherFingerBarre: number;
  readonly pastBodyEachFret: number;
}

/**
 * The effort of holding a grip, in points, rounded to a whole number. `fingers` goes with `strings`.
 */
export function holdingEffort(
  instrument: Instrument,
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
  weights: HandWeights,
): number {
  const fretOf = new Map<number, number>();
  strings.forEach((note, index) => {
    const finger = fingers[index] ?? 0;
    if (finger > 0) fretOf.set(finger, note.fret);
  });
  const used = [...fretOf.keys()].sort((a, b) => a - b);
  let points = used.length * weights.eachFinger + (fretOf.has(4) ? weights.littleFinger : 0);
  for (const [index, lower] of used.entries()) {
    for (const higher of used.slice(index + 1)) {
      const from = fretOf.get(lower) ?? 0;
      const to = fretOf.get(higher) ?? 0;
      points += stretchMm(lower, higher, fretDistanceMm(instrument, from, to)) * weights.stretchEachMm;
    }
    const next = used[index + 1];
    if (next === undefined) continue;
    // A relaxed hand lays neighbouring fingers at neighbouring frets.
    const from = fretOf.get(lower) ?? 0;
    const natural = fretDistanceMm(instrument, from, from + (next - lower));
    const real = fretDistanceMm(instrument, from, fretOf.get(next) ?? 0);
    points += Math.abs(real - natural) * weights.awayFromNaturalEachMm;
  }
  points += reversals(strings, fingers) * weights.fingersReversed;
  for (const barre of barresOf(strings, fingers)) {
    const width = barre.from - barre.to + 1;
    points +=
      barre.finger === 1
        ? weights.indexBarre + (width - 2) * weights.indexBarreEachString
        : weights.otherFingerBarre + (width - 2) * weights.indexBarreEachString;
    if (barre.fret + instrument.capo <= 2) points += weights.barreNearNut;
  }
  const highest = Math.max(0, ...strings.map((note) => note.fret)) + instrument.capo;
  points += Math.max(0, highest - instrument.bodyFret) * weights.pastBodyEachFret;
  return Math.round(points);
}

/** Pairs at one fret where the higher finger is on the lower-pitched string: the hand twists for it. */
function reversals(strings: readonly SoundingString[], fingers: readonly Finger[]): number {
  let count = 0;
  strings.forEach((a, i) => {
    strings.forEach((b, j) => {
      if (i < j && a.fret === b.fret && a.fret > 0) {
        const [low, high] = a.string > b.string ? [i, j] : [j, i];
        if ((fingers[low] ?? 0) > (fingers[high] ?? 0)) count += 1;
      }
    });
  });
  return count;
}

/** Where the hand is on the neck: where the index finger lies or would lie, mm from the nut. Needs a stopped note. */
export function handPlaceMm(
  instrument: Instrument,
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
): number | undefined {
  let lowestFinger = 5;
  let fret = 0;
  strings.forEach((note, index) => {
    const finger = fingers[index] ?? 0;
    if (finger > 0 && finger < lowestFinger) {
      lowestFinger = finger;
      fret = note.fret;
    }
  });
  if (lowestFinger === 5) return undefined;
  return fretPositionMm(instrument, Math.max(1, fret - (lowestFinger - 1)));
}

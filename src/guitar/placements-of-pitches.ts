import { fingeringsOf, type SoundingString } from "./fingering.js";
import type { Finger } from "./grip.js";
import { fretDistanceMm, widestHandMm } from "./hand-reach.js";
import { type Instrument, midiAt, stringCount } from "./instrument.js";

/** Pitches held on an instrument: a string, fret and finger for each, in the order they were given. */
export interface HeldPitches {
  readonly strings: readonly SoundingString[];
  readonly fingers: readonly Finger[];
}

/**
 * Every way to put given pitches (MIDI) on strings of their own with the stopped ones within a hand's
 * reach along the neck. None where a pitch is off the instrument or there are more pitches than strings.
 */
export function* placementsOfPitches(
  instrument: Instrument,
  pitches: readonly number[],
): Generator<readonly SoundingString[]> {
  yield* placeRest([]);

  function* placeRest(placed: readonly SoundingString[]): Generator<readonly SoundingString[]> {
    const midi = pitches[placed.length];
    if (midi === undefined) {
      yield placed;
      return;
    }
    for (let string = 1; string <= stringCount(instrument); string += 1) {
      const fret = midi - midiAt(instrument, string, 0);
      if (fret < (instrument.hasOpenStrings ? 0 : 1) || fret > instrument.frets) continue;
      if (placed.some((other) => other.string === string)) continue;
      const next = [...placed, { string, fret }];
      if (isWithinHand(instrument, next)) yield* placeRest(next);
    }
  }
}

/**
 * The first way a hand can hold given pitches; undefined where there is none. `asked` holds the fingers
 * that are said already, by position of the pitch.
 */
export function heldPitches(
  instrument: Instrument,
  pitches: readonly number[],
  asked: readonly (Finger | undefined)[] = [],
): HeldPitches | undefined {
  for (const strings of placementsOfPitches(instrument, pitches)) {
    const fingers = fingeringWith(instrument, strings, asked);
    if (fingers !== undefined) return { strings, fingers };
  }
  return undefined;
}

/** The first way to finger some strings that keeps the fingers said already; undefined where there is none. */
export const fingeringWith = (
  instrument: Instrument,
  strings: readonly SoundingString[],
  asked: readonly (Finger | undefined)[],
): readonly Finger[] | undefined =>
  fingeringsOf(instrument, strings).find((fingers) =>
    fingers.every((finger, index) => asked[index] === undefined || asked[index] === finger),
  );

function isWithinHand(instrument: Instrument, strings: readonly SoundingString[]): boolean {
  const stopped = strings.map(({ fret }) => fret).filter((fret) => fret > 0);
  return (
    stopped.length < 2 ||
    fretDistanceMm(instrument, Math.min(...stopped), Math.max(...stopped)) <= widestHandMm(instrument)
  );
}

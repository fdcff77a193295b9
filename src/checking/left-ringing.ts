import { isHoldable } from "../guitar/fingering.js";
import type { GuitarNote } from "../guitar/guitar-score.js";
import type { Instrument } from "../guitar/instrument.js";

/**
 * The notes whose tie leads to nothing and that still ring where something else is struck: as long as what rang under
 * them does, one note alone goes on above them, and a hand holds it all with the fingers given. A second and a minor
 * ninth under what is struck is damped.
 *
 * @param ended Such notes, beyond their written length.
 * @param ringing What was struck before and is not over.
 */
export function leftRinging(
  ended: readonly GuitarNote[],
  ringing: readonly GuitarNote[],
  struck: readonly GuitarNote[],
  instrument: Instrument,
): readonly GuitarNote[] {
  const [melody, ...more] = struck;
  if (melody === undefined || more.length > 0) return [];
  const left: GuitarNote[] = [];
  for (const note of ended) {
    const up = melody.midi - note.midi;
    const hasChord = ringing.some(({ onset }) => onset <= note.onset);
    if (hasChord && up >= 2 && up !== 13 && canHold([...ringing, ...left, note, melody], instrument))
      left.push(note);
  }
  return left;
}

function canHold(notes: readonly GuitarNote[], instrument: Instrument): boolean {
  const inOrder = notes.toSorted((one, other) => (other.string ?? 0) - (one.string ?? 0));
  const strings = inOrder.flatMap(({ string, fret }) =>
    string === undefined || fret === undefined ? [] : [{ string, fret }],
  );
  const fingers = inOrder.flatMap(({ finger }) => finger ?? []);
  const isToldWhole = strings.length === notes.length && fingers.length === notes.length;
  const isEachOnItsOwn = new Set(strings.map(({ string }) => string)).size === notes.length;
  return isToldWhole && isEachOnItsOwn && isHoldable(instrument, strings, fingers);
}

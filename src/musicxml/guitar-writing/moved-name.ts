import { type PitchName, transposeName } from "../../song/pitch.js";

/** Letters in the order in which a key signature gains sharps. */
const BY_FIFTHS = ["F", "C", "G", "D", "A", "E", "B"] as const;

/** Steps along the line of fifths from C: G is 1, F -1, F sharp 6. */
export const fifthsAboveC = (name: PitchName): number =>
  BY_FIFTHS.indexOf(name.letter) - 1 + BY_FIFTHS.length * name.alter;

/** Sharps or flats that a printed signature has. */
const MOST_FIFTHS = 7;

/** A key signature moved by a named interval; more sharps or flats than there may be are written as the enharmonic key. */
export function movedFifths(fifths: number, interval: string, most = MOST_FIFTHS): number {
  const moved = fifths + fifthsAboveC(transposeName({ letter: "C", alter: 0 }, interval));
  if (moved > most) return moved - 12;
  return moved < -most ? moved + 12 : moved;
}

import { type PitchName, transposeName } from "../../song/pitch.js";

/** Letters in the order in which a key signature gains sharps. */
const BY_FIFTHS = ["F", "C", "G", "D", "A", "E", "B"] as const;

/** Steps along the line of fifths from C: G is 1, F -1, F sharp 6. */
export const fifthsAboveC = (name: PitchName): number =>
  BY_FIFTHS.indexOf(name.letter) - 1 + BY_FIFTHS.length * name.alter;

/** More sharps or flats than a signature has are written as the enharmonic key. */
const MOST_FIFTHS = 7;

/** Steps along the line of fifths that a named interval is: a whole tone up is 2. */
export const fifthsMovedBy = (interval: string): number =>
  fifthsAboveC(transposeName({ letter: "C", alter: 0 }, interval));

/** A key signature moved by a named interval. */
export function movedFifths(fifths: number, interval: string): number {
  const moved = fifths + fifthsMovedBy(interval);
  if (moved > MOST_FIFTHS) return moved - 12;
  return moved < -MOST_FIFTHS ? moved + 12 : moved;
}

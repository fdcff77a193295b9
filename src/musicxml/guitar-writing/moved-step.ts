import { Note } from "tonal";
import { LETTERS, nameOf, type PitchName, transposeName } from "../../song/pitch.js";

/** A step and an alteration in whole semitones, moved by a named interval; undefined where there is no such step. */
export function movedStep(step: string, alter: number | undefined, interval: string): PitchName | undefined {
  const letter = LETTERS.find((one) => one === step.trim());
  if (letter === undefined) return undefined;
  return transposeName({ letter, alter: Number.isInteger(alter) ? (alter ?? 0) : 0 }, interval);
}

/** The interval from one note name up to another, as tonal names it. */
export const intervalBetween = (from: PitchName, to: PitchName): string =>
  Note.distance(nameOf(from), nameOf(to));

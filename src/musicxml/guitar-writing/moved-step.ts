import { Note } from "tonal";
import { LETTERS, nameOf, type PitchName, transposeName } from "../../song/pitch.js";

export const isSemitones = (text: string): boolean => /^\s*[-+]?\d+(\.0*)?\s*$/.test(text);

/** A step and alter as MusicXML writes them, moved by a named interval; undefined where they are no note name. */
export function movedStep(step: string, alter: string, interval: string): PitchName | undefined {
  const letter = LETTERS.find((one) => one === step.trim());
  if (letter === undefined) return undefined;
  return transposeName({ letter, alter: isSemitones(alter) ? Number(alter) : 0 }, interval);
}

/** The interval from one note name up to another, as tonal names it. */
export const intervalBetween = (from: PitchName, to: PitchName): string =>
  Note.distance(nameOf(from), nameOf(to));

import { intervalBetween, LETTERS, type PitchName, transposeName } from "../../song/pitch.js";
import type { WrittenTransposition } from "../lead-sheet/lead-sheet.js";
import { movedName } from "../timeline/transposition.js";

/** A step and its alteration, read to whole semitones, moved by a named interval; undefined where there is no such step. */
export function movedStep(step: string, alter: number | undefined, interval: string): PitchName | undefined {
  const letter = LETTERS.find((one) => one === step.trim());
  if (letter === undefined) return undefined;
  return transposeName({ letter, alter: Math.round(alter ?? 0) }, interval);
}

/** The interval from one note name to another; octaves never change a name. */
export const intervalOfNames = (from: PitchName, to: PitchName): string =>
  intervalBetween({ ...from, octave: 4 }, { ...to, octave: 4 });

/** From a name as it is written to how the guitar sounds it: the lead part's transposition and ours in one. */
export const intervalToGuitar = (shift: WrittenTransposition, interval: string): string =>
  intervalOfNames(C, transposeName(movedName(C, shift), interval));

const C: PitchName = { letter: "C", alter: 0 };

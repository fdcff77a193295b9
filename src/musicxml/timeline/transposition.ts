import {
  LETTERS,
  mod12,
  type Pitch,
  type PitchName,
  pitchClass,
  pitchNamed,
  semitonesAboveC,
  simplestName,
} from "../../song/pitch.js";
import { attributeOf, type XmlElement } from "../../xml/xml-tree.js";
import { numberIn } from "../numbers/read-number.js";
import type { Quarters } from "./exact-time.js";

/** From written to sounding: steps of the staff and semitones, octaves included in both. */
export interface Shift {
  readonly diatonic: number;
  readonly chromatic: number;
}

/** A `<transpose>` from its time on, for one staff or (undefined) for all. */
export interface TimedShift extends Shift {
  readonly at: Quarters;
  readonly staff: string | undefined;
}

export const NO_SHIFT: Shift = { diatonic: 0, chromatic: 0 };

/** Staff steps that go with a number of semitones where the file leaves them out. */
const STEPS_OF_SEMITONES: readonly number[] = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6];

/** Reads `<transpose>`; a clef's octave is drawing and has no part in it. */
export function readShift(transpose: XmlElement, at: Quarters): TimedShift {
  const chromatic = Math.round(numberIn(transpose, "chromatic") ?? 0);
  const octaves = Math.round(numberIn(transpose, "octave-change") ?? 0);
  const diatonic = Math.round(numberIn(transpose, "diatonic") ?? stepsOf(chromatic));
  return {
    at,
    staff: attributeOf(transpose, "number")?.trim(),
    diatonic: diatonic + 7 * octaves,
    chromatic: chromatic + 12 * octaves,
  };
}

function stepsOf(chromatic: number): number {
  const size = Math.abs(chromatic);
  return Math.sign(chromatic) * (7 * Math.floor(size / 12) + (STEPS_OF_SEMITONES[size % 12] ?? 0));
}

/** The shift in force by time, not by place in the file. */
export function shiftAt(shifts: readonly TimedShift[], staff: string, at: Quarters): Shift {
  let inForce: TimedShift | undefined;
  for (const shift of shifts)
    if (
      (shift.staff === undefined || shift.staff === staff) &&
      shift.at.lte(at) &&
      (inForce === undefined || shift.at.gte(inForce.at))
    )
      inForce = shift;
  return inForce ?? NO_SHIFT;
}

/** A note name moved from written to sounding; octaves never change a name. */
export function movedName(name: PitchName, { diatonic, chromatic }: Shift): PitchName {
  const index = LETTERS.indexOf(name.letter) + diatonic;
  const letter = LETTERS[((index % 7) + 7) % 7] ?? "C";
  const raw = mod12(pitchClass(name) + chromatic - semitonesAboveC({ letter, alter: 0 }));
  const alter = raw > 6 ? raw - 12 : raw;
  return Math.abs(alter) <= 2 ? { letter, alter } : simplestName(mod12(pitchClass(name) + chromatic));
}

/** A written pitch as it sounds, spelled by the shift's staff steps. */
export function soundingPitch(written: Pitch, shift: Shift): Pitch {
  const midi = 12 * (written.octave + 1) + semitonesAboveC(written) + shift.chromatic;
  const pitch = pitchNamed(movedName(written, shift), midi);
  if (pitch === undefined) throw new Error("a moved name keeps its pitch class");
  return pitch;
}

/** Sharps that a shift adds to a key signature, folded into seven sharps to seven flats. */
export function soundingFifths(fifths: number, { diatonic, chromatic }: Shift): number {
  // A fifth up is four steps and seven semitones: 7 * 7 - 12 * 4 = 1.
  let moved = fifths + 7 * chromatic - 12 * diatonic;
  while (moved > 7) moved -= 12;
  while (moved < -7) moved += 12;
  return moved;
}

import { intervalName, intervalNamed } from "./interval.js";

/** The seven letters, from C up. */
export type Letter = "C" | "D" | "E" | "F" | "G" | "A" | "B";
export const LETTERS: readonly Letter[] = ["C", "D", "E", "F", "G", "A", "B"];

/** A note name without octave. `alter` in semitones: -1 flat, 1 sharp. */
export interface PitchName {
  readonly letter: Letter;
  readonly alter: number;
}

/** A spelled pitch; octave as in MusicXML (C4 = middle C), always sounding in the model. */
export interface Pitch extends PitchName {
  readonly octave: number;
}

const SEMITONES: Readonly<Record<Letter, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** Semitones above C of a note name, not folded into the octave (B sharp is 12, C flat -1). */
export const semitonesAboveC = (name: PitchName): number => SEMITONES[name.letter] + name.alter;

/** Pitch class 0..11, C = 0. */
export const pitchClass = (name: PitchName): number => mod12(semitonesAboveC(name));

/** MIDI number, 60 = middle C. */
export const midiOf = (pitch: Pitch): number => 12 * (pitch.octave + 1) + semitonesAboveC(pitch);

export const mod12 = (semitones: number): number => ((semitones % 12) + 12) % 12;

/** The pitch of a given MIDI number that carries a given name; undefined where the two disagree. */
export function pitchNamed(name: PitchName, midi: number): Pitch | undefined {
  const octave = (midi - semitonesAboveC(name)) / 12 - 1;
  return Number.isInteger(octave) ? { ...name, octave } : undefined;
}

/** A name for a pitch class that nothing spells, with flats or with sharps for the black keys. */
export function simplestName(pitchClassFromC: number, accidental: "flat" | "sharp" = "flat"): PitchName {
  const letter = LETTERS.find((one) => SEMITONES[one] === pitchClassFromC);
  if (letter !== undefined) return { letter, alter: 0 };
  const alter = accidental === "flat" ? -1 : 1;
  return { letter: LETTERS.find((one) => SEMITONES[one] + alter === pitchClassFromC) ?? "C", alter };
}

/** A pitch for a MIDI number that nothing spells, with flats. */
export const midiPitch = (midi: number): Pitch => ({
  ...simplestName(mod12(midi)),
  octave: Math.floor(midi / 12) - 1,
});

/** "Bb", "F##", "C": letter and ASCII accidentals. */
export const nameOf = (name: PitchName): string =>
  name.letter + (name.alter < 0 ? "b".repeat(-name.alter) : "#".repeat(name.alter));

/** Whether two are one letter with one alteration, or there are none. */
export const isSameName = (one: PitchName | undefined, other: PitchName | undefined): boolean =>
  one?.letter === other?.letter && one?.alter === other?.alter;

/** "Bb4": a name with its octave. */
export const pitchText = (pitch: Pitch): string => `${nameOf(pitch)}${pitch.octave}`;

/** The name of a MIDI number that nothing spells: "Bb4". */
export const midiText = (midi: number): string => pitchText(midiPitch(midi));

/** Reads "Bb", "Bb4", "fx"; undefined where it is no note name. */
export function parsePitchName(text: string): PitchName | undefined {
  const [, letter, accidentals = ""] = /^([a-gA-G])(b*|#*|x*)(?:-?\d+)?\s*$/.exec(text) ?? [];
  if (letter === undefined) return undefined;
  const each = accidentals.startsWith("b") ? -1 : accidentals.startsWith("x") ? 2 : 1;
  return { letter: letter.toUpperCase() as Letter, alter: each * accidentals.length };
}

/** The interval from one pitch to another, by its name. */
export const intervalBetween = (from: Pitch, to: Pitch): string =>
  intervalName({ steps: stepsAboveC(to) - stepsAboveC(from), semitones: midiOf(to) - midiOf(from) });

/** Letters above C0. */
const stepsAboveC = ({ letter, octave }: Pitch): number => LETTERS.indexOf(letter) + 7 * octave;

/**
 * A note name moved by a named interval such as "3m", "-2M".
 * Where that would need more than two accidentals, the enharmonic neighbour with fewer is taken.
 */
export function transposeName(name: PitchName, interval: string): PitchName {
  const { steps, semitones } = intervalNamed(interval);
  const place = LETTERS.indexOf(name.letter) + steps;
  const letter = LETTERS[((place % 7) + 7) % 7] ?? "C";
  const alter = semitonesAboveC(name) + semitones - 12 * Math.floor(place / 7) - SEMITONES[letter];
  if (Math.abs(alter) <= 2) return { letter, alter };
  return simplestName(mod12(SEMITONES[letter] + alter), alter > 0 ? "sharp" : "flat");
}

/** A pitch moved by a named interval of a given size in semitones (octaves included in both). */
export function transposePitch(pitch: Pitch, interval: string, semitones: number): Pitch {
  const moved = pitchNamed(transposeName(pitch, interval), midiOf(pitch) + semitones);
  if (moved === undefined) throw new Error(`${interval} is not ${semitones} semitones`);
  return moved;
}

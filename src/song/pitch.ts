import { Note } from "tonal";

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

/** A pitch for a MIDI number that nothing spells, as tonal names it: with flats. */
export function midiPitch(midi: number): Pitch {
  const name = parsePitchName(Note.pitchClass(Note.fromMidi(midi))) ?? { letter: "C", alter: 0 };
  return pitchNamed(name, midi) ?? { ...name, octave: Math.floor(midi / 12) - 1 };
}

/** "Bb", "F##", "C": letter and ASCII accidentals, as tonal reads and writes them. */
export const nameOf = (name: PitchName): string =>
  name.letter + (name.alter < 0 ? "b".repeat(-name.alter) : "#".repeat(name.alter));

/** Reads "Bb" or "Bb4"; undefined where it is no note name. */
export function parsePitchName(text: string): PitchName | undefined {
  const note = Note.get(text);
  return note.empty ? undefined : { letter: note.letter as Letter, alter: note.alt };
}

/**
 * A note name moved by a named interval such as "3m", "-2M" (tonal's spelling: number, then quality).
 * Where that would need more than two accidentals, the enharmonic neighbour with fewer is taken.
 */
export function transposeName(name: PitchName, interval: string): PitchName {
  const moved = Note.transpose(nameOf(name), interval);
  const parsed = parsePitchName(moved);
  if (parsed !== undefined && Math.abs(parsed.alter) <= 2) return parsed;
  const simple = parsePitchName(Note.simplify(moved));
  if (simple === undefined) throw new Error(`no note name: ${nameOf(name)} moved by ${interval}`);
  return simple;
}

/** A pitch moved by a named interval of a given size in semitones (octaves included in both). */
export function transposePitch(pitch: Pitch, interval: string, semitones: number): Pitch {
  const moved = pitchNamed(transposeName(pitch, interval), midiOf(pitch) + semitones);
  if (moved === undefined) throw new Error(`${interval} is not ${semitones} semitones`);
  return moved;
}

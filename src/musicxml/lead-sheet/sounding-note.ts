import type { Finding, Findings } from "../../diagnostics.js";
import { type Pitch, semitonesAboveC } from "../../song/pitch.js";
import type { Quarters } from "../timeline/exact-time.js";
import { shiftAt, soundingPitch } from "../timeline/transposition.js";
import { placeIn, type WalkedMeasure, type WalkedNote, type WalkedPart } from "../timeline/walked-part.js";

/** Sounding pitch; a quarter tone goes to the nearest semitone, of two equally near to the even one. */
export function soundingNote(part: WalkedPart, note: WalkedNote, findings: Findings): Pitch | undefined {
  if (note.written === undefined) return undefined;
  const shift = shiftAt(part.shifts, note.staff, note.at);
  const { alter } = note.written;
  if (Number.isInteger(alter)) return soundingPitch(note.written, shift);
  const exact = 12 * (note.written.octave + 1) + semitonesAboveC(note.written) + shift.chromatic;
  const below = Math.floor(exact);
  const midi = exact - below === 0.5 ? below + (below % 2) : Math.round(exact);
  const whole = { ...note.written, alter: alter + midi - exact };
  const measure = part.measures[note.measure];
  if (measure !== undefined) findings.add(quarterTone(alter, part, measure, note.at));
  return soundingPitch(whole, shift);
}

const quarterTone = (alter: number, part: WalkedPart, measure: WalkedMeasure, at: Quarters): Finding => ({
  rule: "quarter-tone",
  severity: "warning",
  place: placeIn(part, measure, at),
  found: `an alteration of ${alter} semitones`,
  expected: "whole semitones",
  message: `The note is altered by ${alter} semitones; the nearest semitone was taken.`,
});

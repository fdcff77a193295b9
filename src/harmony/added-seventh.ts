import { mod12, pitchClass } from "../song/pitch.js";
import type { Chord, ChordTone } from "./chord-tones.js";

/** A tone that a player adds to what a symbol names. */
export type AddedTone = Pick<ChordTone, "label" | "semitones" | "pitchClass">;

/**
 * The seventh that a diminished triad may have: the two lead on alike, and the seventh chord is the shape that players
 * know. undefined for any other chord. Common practice.
 */
export function addedSeventh(chord: Chord): AddedTone | undefined {
  if (chord.tones.map(({ label }) => label).join(" ") !== DIMINISHED_TRIAD) return undefined;
  return { label: "bb7", semitones: SEVENTH, pitchClass: mod12(pitchClass(chord.symbol.root) + SEVENTH) };
}

const DIMINISHED_TRIAD = "1 b3 b5";

/** Semitones of a diminished seventh. */
const SEVENTH = 9;

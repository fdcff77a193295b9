import { mod12, type PitchName, pitchClass } from "../song/pitch.js";
import { addedSeventh } from "./added-seventh.js";
import { parseDegree, spellDegree } from "./chord-degree.js";
import type { Chord } from "./chord-tones.js";
import { melodyDegree } from "./melody-degree.js";

/**
 * What each supporting note of a grip is over its chord, "" where there is none; "bass" is a foreign bass that the symbol
 * names, and nothing below it. Chord and grip alone decide, not why a note is there, so that a grip that comes back says of
 * itself what it said before.
 */
export function supportDegrees(chord: Chord | undefined, midis: readonly number[]): readonly string[] {
  const lowest = Math.min(...midis);
  return midis.map((midi) => {
    if (chord === undefined) return "";
    const isBass = midi === lowest && isForeignBass(chord, mod12(midi));
    return isBass ? "bass" : degreeOver(chord, mod12(midi));
  });
}

/** How one is spelled: by its degree over the root; a foreign bass as the symbol writes it, wherever it lies. */
export const supportName = (chord: Chord, noteClass: number): PitchName =>
  chord.bass !== undefined && isForeignBass(chord, noteClass)
    ? chord.bass.name
    : spellDegree(chord.symbol.root, parseDegree(degreeOver(chord, noteClass)));

const isForeignBass = ({ bass }: Chord, noteClass: number): boolean =>
  bass !== undefined && bass.degree === undefined && bass.pitchClass === noteClass;

/** A note that is no tone of its chord is heard as a melody note is, but for what stands in for a seventh. */
function degreeOver(chord: Chord, noteClass: number): string {
  const { label, tone } = melodyDegree(chord, noteClass);
  if (tone !== undefined) return label;
  const added = addedSeventh(chord);
  if (added?.pitchClass === noteClass) return added.label;
  const isSixth = mod12(noteClass - pitchClass(chord.symbol.root)) === SIXTH;
  return isSixth && chord.tones.some(({ label: name }) => name === "7") ? "6" : label;
}

/** Semitones of a sixth, which stands for a major seventh. */
const SIXTH = 9;

import type { PitchName } from "../song/pitch.js";
import { addedSeventh } from "./added-seventh.js";
import { parseDegree, spellDegree } from "./chord-degree.js";
import type { Chord } from "./chord-tones.js";
import { melodyDegree } from "./melody-degree.js";

/** What a supporting note of a given pitch class is over its chord; "bass" is a foreign bass that the symbol names. */
export function supportDegree(chord: Chord, pitchClass: number): string {
  const { label, tone } = melodyDegree(chord, pitchClass);
  if (tone !== undefined) return label;
  if (chord.bass?.pitchClass === pitchClass) return "bass";
  const added = addedSeventh(chord);
  return added?.pitchClass === pitchClass ? added.label : label;
}

/**
 * How it is spelled: by its degree over the root; a foreign bass as the symbol writes it. Chord and pitch alone decide,
 * not why the note is there, so that a grip that comes back has the names it went with.
 */
export function supportName(chord: Chord, pitchClass: number): PitchName {
  const degree = supportDegree(chord, pitchClass);
  if (degree === "bass" && chord.bass !== undefined) return chord.bass.name;
  return spellDegree(chord.symbol.root, parseDegree(degree));
}

import type { Chord } from "./chord-tones.js";

const known = new WeakMap<Chord, string>();

/** A text that two chords have in common only if their symbols say the same; found once for each. */
export function chordIdentity(chord: Chord): string {
  let name = known.get(chord);
  if (name === undefined) {
    name = JSON.stringify(chord.symbol);
    known.set(chord, name);
  }
  return name;
}

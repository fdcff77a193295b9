import { parseChordText } from "../../src/harmony/chord-text.js";
import { type Chord, chordOf } from "../../src/harmony/chord-tones.js";

/** The chord that a symbol names, "Bbmaj7". */
export function chordNamed(text: string): Chord {
  const symbol = parseChordText(text);
  if (symbol === undefined || symbol === "no-chord") throw new Error(`no chord "${text}"`);
  return chordOf(symbol);
}

import type { Attack } from "../../src/arrangement/arrangement.js";
import { type Candidate, candidates } from "../../src/arranging/grips/candidate.js";
import { midiAt } from "../../src/guitar/instrument.js";
import { GUITAR, gripFrom } from "./guitar.js";

/**
 * A grip of a diagram, "fret:finger" from string 6 up, its highest note the melody. `degreeAt` says what its supporting
 * notes are, the lowest first.
 */
export function candidateFrom(
  diagram: string,
  attack: Attack = "struck",
  degreeAt: (index: number) => string = () => "1",
): Candidate {
  const { strings, fingers } = gripFrom(diagram);
  const midis = strings.map(({ string, fret }) => midiAt(GUITAR, string, fret));
  const degrees = midis.slice(0, -1).map((_, index) => degreeAt(index));
  const [grip] = candidates(GUITAR, { attack, strings, fingers, midis, degrees, cost: 0 });
  if (grip === undefined) throw new Error(diagram);
  return grip;
}

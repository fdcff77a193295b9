import type { Chord } from "../harmony/chord-tones.js";
import { supportDegrees } from "../harmony/support-degree.js";
import type { Candidate } from "./grips/candidate.js";

/** What the supporting notes of a grip are over the chord that it sounds with, whatever each was put there for. */
export const degreesHeard = (
  { midis, degrees }: Pick<Candidate, "midis" | "degrees">,
  chord: Chord | undefined,
): readonly string[] => supportDegrees(chord, midis.slice(0, degrees.length));

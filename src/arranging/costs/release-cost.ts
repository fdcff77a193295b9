import type { Chord } from "../../harmony/chord-tones.js";
import type { VoicingWeights } from "./cost-table.js";

/**
 * What it costs to let supporting notes go that could ring on under the melody, all of them together:
 * letting some go costs the difference.
 */
export function releaseCost(
  degrees: readonly string[],
  chord: Chord | undefined,
  { droppedWhileHeld }: VoicingWeights,
): number {
  let points = 0;
  for (const degree of degrees) {
    const role = chord?.tones.find((tone) => tone.label === degree)?.role;
    const saysChord = role === "guide" || role === "root" || degree === "bass";
    points += droppedWhileHeld[saysChord ? "guideOrRoot" : "other"];
  }
  return points;
}

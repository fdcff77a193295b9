import type { Chord } from "../../harmony/chord-tones.js";
import type { VoicingWeights } from "./cost-table.js";

/**
 * What it costs to let supporting notes go that could ring on under the melody, all of them together: letting some
 * go costs the difference. The bass that a symbol names is a line of its own, and as dear as a guide tone or root.
 */
export function releaseCost(
  degrees: readonly string[],
  chord: Chord | undefined,
  { droppedWhileHeld }: VoicingWeights,
): number {
  let points = 0;
  for (const degree of degrees) {
    const role = chord?.tones.find((tone) => tone.label === degree)?.role;
    const isNamedBass = chord?.bass !== undefined && degree === (chord.bass.degree ?? "bass");
    points += droppedWhileHeld[role === "guide" || role === "root" || isNamedBass ? "guideOrRoot" : "other"];
  }
  return points;
}

import type { Chord } from "../../harmony/chord-tones.js";
import type { VoicingWeights } from "./cost-table.js";

/**
 * What it costs to let supporting notes go that could ring on under the melody, all of them together: letting some
 * go costs the difference. The bass that a symbol names is a line of its own, and as dear as a guide tone or root.
 */
export function releaseCost(
  degrees: readonly string[],
  chord: Chord | undefined,
  weights: VoicingWeights,
): number {
  let points = 0;
  for (const degree of degrees) points += releaseCostOf(degree, chord, weights);
  return points;
}

/** Letting one of them go. */
export function releaseCostOf(
  degree: string,
  chord: Chord | undefined,
  { droppedWhileHeld }: VoicingWeights,
): number {
  const role = chord?.tones.find((tone) => tone.label === degree)?.role;
  const isNamedBass = chord?.bass !== undefined && degree === (chord.bass.degree ?? "bass");
  return droppedWhileHeld[role === "guide" || role === "root" || isNamedBass ? "guideOrRoot" : "other"];
}

import type { SupportPlan } from "../../harmony/support-plan.js";
import type { TextureWeights } from "./cost-table.js";

/**
 * What it costs that only some supporting notes are left of a chord that rings on under a melody note: that it
 * no longer says which chord it is, or says it without its third or its seventh, and each note that it is short of.
 *
 * @param degrees What is left of it.
 * @param noteShort Points for each note short where the melody note stands.
 * @param seconds How long it rings so.
 */
export function ringingCost(
  degrees: readonly string[],
  { chord, melody, notes }: Pick<SupportPlan, "chord" | "melody" | "notes">,
  noteShort: number,
  seconds: number,
  { heldHollowEachSecond, heldLackingGuideEachSecond, lackingGuideFromSeconds }: TextureWeights,
): number {
  const sounding = melody.tone === undefined ? degrees : [...degrees, melody.tone.label];
  const guides = chord.tones.filter(({ role }) => role === "guide");
  const silent = guides.filter(({ label }) => !sounding.includes(label));
  const lacking = silent.filter((tone) => tone !== melody.standsFor).length;
  // Two tones, one of them twice, are no triad.
  const isOfTriad = melody.tone !== undefined && !chord.isSeventhOrLarger;
  const tones = isOfTriad ? new Set(sounding).size - 1 : degrees.length;
  const short = Math.max(0, notes - 1 - tones);
  const unsaid =
    silent.length === guides.length
      ? seconds * heldHollowEachSecond
      : Math.max(0, seconds - lackingGuideFromSeconds) * lacking * heldLackingGuideEachSecond;
  return Math.round(unsaid) + short * noteShort;
}

import type { SoundingString } from "../../guitar/fingering.js";
import type { SupportPlan } from "../../harmony/support-plan.js";
import type { CostTable } from "./cost-table.js";
import { rightHandCost } from "./right-hand-cost.js";

const NONE_RINGING: readonly number[] = [];

/**
 * Points for striking the supporting notes that lie under the hand once more under another melody note of the same
 * chord. A guide tone that they lack is missed less where the melody has just sung it; any other is for once. A triad is
 * never without root or third.
 *
 * @param sungBefore Pitch class of the melody note before.
 */
export function gripAgainCost(
  degrees: readonly string[],
  strings: readonly SoundingString[],
  plan: SupportPlan,
  sungBefore: number | undefined,
  { texture, voicing }: CostTable,
): number {
  const { wanted, melody, notes } = plan;
  let lacking = 0;
  for (const tone of wanted) {
    if (degrees.includes(tone.label) || tone.label === melody.label) continue;
    const isNeeded = plan.chord.isSeventhOrLarger
      ? tone.role === "guide" && tone.pitchClass !== sungBefore
      : tone.role !== "fifth";
    lacking += voicing.missing[tone.role] * (isNeeded ? 1 : texture.shareOfLackingAgain);
  }
  return (
    texture.gripStruckAgain +
    Math.max(0, notes - strings.length) * voicing.noteFewer +
    Math.round(lacking) +
    rightHandCost(strings, NONE_RINGING, voicing)
  );
}

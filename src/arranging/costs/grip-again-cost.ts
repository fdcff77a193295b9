import type { SoundingString } from "../../guitar/fingering.js";
import type { SupportPlan } from "../../harmony/support-plan.js";
import type { CostTable } from "./cost-table.js";
import { rightHandCost } from "./right-hand-cost.js";

const NONE_RINGING: readonly number[] = [];

/**
 * Points for striking the supporting notes that lie under the hand once more under another melody note of the same
 * chord: what they lack beside it was heard just before, or is doubled for once.
 */
export function gripAgainCost(
  degrees: readonly string[],
  strings: readonly SoundingString[],
  { wanted, melody, notes }: SupportPlan,
  { texture, voicing }: CostTable,
): number {
  let lacking = 0;
  for (const tone of wanted) {
    if (!degrees.includes(tone.label) && tone.label !== melody.label) lacking += voicing.missing[tone.role];
  }
  return (
    texture.gripStruckAgain +
    Math.max(0, notes - strings.length) * voicing.noteFewer +
    Math.round(lacking * texture.shareOfLackingAgain) +
    rightHandCost(strings, NONE_RINGING, voicing)
  );
}

import type { SupportPlan } from "../../harmony/support-plan.js";
import type { CostTable } from "./cost-table.js";
import { lowestNoteCost } from "./voicing-cost.js";

/**
 * Points for a lowest note that is no bass and goes on being heard: held under another melody note, or struck again with
 * the same grip. Asked by its degree and MIDI number.
 *
 * @param seconds How long it goes on.
 */
export function bassAgainCost(
  plan: SupportPlan,
  seconds: number,
  { texture, voicing }: CostTable,
): (degree: string | undefined, midi: number | undefined) => number {
  const share = Math.min(1, seconds * texture.lowestAgainEachSecond);
  const tones = [...plan.mayDouble, ...plan.wanted];
  return (degree, midi) => {
    const tone = tones.find(({ label }) => label === degree);
    if (tone === undefined || midi === undefined) return 0;
    return Math.round(lowestNoteCost({ midi, tone }, plan, voicing) * share);
  };
}

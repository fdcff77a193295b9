import type { RightHand } from "../../options/options.js";
import type { CostTable, RightHandWeights } from "./cost-table.js";

type OnString = { readonly string: number };

/** The thumb and three fingers. */
const PLUCKING_FINGERS = 4;

/**
 * What striking strings together asks of the right hand: the strings between them that are silent, or that ring on
 * from before, and notes beyond those for which it has a finger each.
 *
 * @param struck what is on the strings, the lowest-pitched first
 * @param ringing strings that ring on
 */
export function rightHandCost(
  struck: readonly OnString[],
  ringing: readonly number[],
  weights: RightHandWeights,
): number {
  let points = Math.max(0, struck.length - PLUCKING_FINGERS) * weights.noteBeyondFour;
  for (let upper = 1; upper < struck.length; upper += 1) {
    const low = struck[upper - 1]?.string ?? 0;
    const high = struck[upper]?.string ?? 0;
    let silent = low - high - 1;
    for (const string of ringing)
      if (string < low && string > high) {
        silent -= 1;
        points += weights.ringingInnerString;
      }
    if (upper === 1 && silent === 1 && struck.length > 2) points += weights.silentStringAboveLowest;
    else points += silent * weights.silentInnerString;
  }
  return points;
}

const known = new WeakMap<CostTable, Map<RightHand, CostTable>>();

/** The table of costs where chords and voices are struck by the right hand that is asked for; the same one each time. */
export function withRightHand(costs: CostTable, hand: RightHand): CostTable {
  if (hand === "either") return costs;
  const tables = known.get(costs) ?? new Map<RightHand, CostTable>();
  known.set(costs, tables);
  const weights = costs.rightHand[hand];
  const table = tables.get(hand) ?? {
    ...costs,
    voicing: { ...costs.voicing, ...weights },
    sung: { ...costs.sung, ...weights },
  };
  tables.set(hand, table);
  return table;
}

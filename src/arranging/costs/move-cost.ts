import type { TextureName } from "../../options/options.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { MoveWeights } from "./cost-table.js";
import { fingerChangeCost } from "./finger-cost.js";
import { isRegripped } from "./regrip-cost.js";
import { changesStringSet } from "./string-set-cost.js";
import { travelCost, travelMm } from "./travel-cost.js";
import { voiceLeadingCost } from "./voice-leading.js";

/** What a move between two grips has to know of the moments they stand at. */
export interface MoveTerms {
  /** From the one onset to the other. */
  readonly seconds: number;
  /** In force where the move arrives. */
  readonly texture: TextureName;
  /** Fastest the hand may travel along the neck; going faster is done only where no other way exists. */
  readonly mmPerSecond: number;
  /** The melody repeats its note over the chord that is there. */
  readonly isRepeated: boolean;
  /** The chord of before goes on: the hand has no cause to leave its grip. */
  readonly isSameChord: boolean;
}

/**
 * Points for getting from one grip to the next, whatever the two are worth by themselves.
 *
 * @param enough Once it is known to cost so much, any figure that is no less will do.
 */
export function moveCost(
  earlier: PackedColumn,
  from: number,
  later: PackedColumn,
  to: number,
  terms: MoveTerms,
  weights: MoveWeights,
  enough = Number.POSITIVE_INFINITY,
): number {
  const { texture } = terms;
  let points = wayCost(travelMm(earlier, from, later, to), terms, weights);
  if ((later.supports[to] === 0) !== (earlier.supports[from] === 0)) points += weights.inAndOutOfHarmony;
  // Fingers that move over a chord ringing on leave no grip.
  const isGripLeft = terms.isSameChord && later.isHeld[to] === 0;
  points +=
    fingerChangeCost(earlier, from, later, to, weights.fingers) * (isGripLeft ? weights.underOneChord : 1);
  if (points >= enough) return Math.round(points);
  points += stringSetCost(earlier, from, later, to, texture, weights);
  if (terms.isRepeated && isRegripped(earlier, from, later, to)) points += weights.regrippedOnRepeat;
  if (points >= enough) return Math.round(points);
  return Math.round(points + voiceLeadingCost(earlier, from, later, to, texture, weights.voices));
}

/** The part of it that hangs on the way of the hand alone; more for a longer way. */
export function wayCost(
  mm: number,
  { seconds, texture, mmPerSecond, isSameChord }: MoveTerms,
  weights: MoveWeights,
): number {
  const tooFast = mm > mmPerSecond * seconds ? weights.tooFast[texture] : 0;
  const travel = travelCost(mm, seconds, texture, weights.travel);
  return tooFast + travel * (isSameChord ? weights.underOneChord : 1);
}

function stringSetCost(
  earlier: PackedColumn,
  from: number,
  later: PackedColumn,
  to: number,
  texture: TextureName,
  weights: MoveWeights,
): number {
  if (later.isHeld[to] === 1 || earlier.supports[from] === 0 || later.supports[to] === 0) return 0;
  return changesStringSet(earlier, from, later, to) ? weights.stringSetChanged[texture] : 0;
}

import type { TextureName } from "../../options/options.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { MoveWeights } from "./cost-table.js";
import { fingerChangeCost } from "./finger-cost.js";
import { crossesStrings } from "./line-crossing.js";
import { betweenPlaces } from "./place-classes.js";
import { isRegripped } from "./regrip-cost.js";
import { changesStringSet } from "./string-set-cost.js";
import { travelCost } from "./travel-cost.js";
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
export type MoveCost = (from: number, to: number, enough?: number) => number;

/** What the moves between the grips of two columns cost. */
export function moveCosts(
  earlier: PackedColumn,
  later: PackedColumn,
  terms: MoveTerms,
  weights: MoveWeights,
): MoveCost {
  const { texture, isSameChord, isRepeated } = terms;
  const { inAndOutOfHarmony, underOneChord, regrippedOnRepeat, lineCrossed } = weights;
  const stringSetChanged = weights.stringSetChanged[texture];
  const wayPoints = betweenPlaces(earlier, later, (mm) => wayCost(mm, terms, weights));
  return (from, to, enough = Number.POSITIVE_INFINITY) => {
    const before = earlier.supports[from] ?? 0;
    const after = later.supports[to] ?? 0;
    const isHeld = later.isHeld[to] === 1;
    const inOrOut = (after === 0) !== (before === 0) ? inAndOutOfHarmony : 0;
    const isSetChanged = !isHeld && before !== 0 && after !== 0 && changesStringSet(earlier, from, later, to);
    const setPoints = isSetChanged ? stringSetChanged : 0;
    const so = wayPoints(from, to) + inOrOut;
    // Looked at in the order of what it takes to know them, added up in one order whatever is enough.
    if (so + setPoints >= enough) return Math.round(so + setPoints);
    // Fingers that move over a chord ringing on leave no grip.
    const times = isSameChord && !isHeld ? underOneChord : 1;
    let points = so + fingerChangeCost(earlier, from, later, to, weights.fingers) * times + setPoints;
    if (crossesStrings(earlier, from, later, to)) points += lineCrossed;
    if (isRepeated && isRegripped(earlier, from, later, to)) points += regrippedOnRepeat;
    if (points >= enough) return Math.round(points);
    return Math.round(points + voiceLeadingCost(earlier, from, later, to, texture, weights.voices));
  };
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

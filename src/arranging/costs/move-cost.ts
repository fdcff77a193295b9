import { TIRING_BARRE_STRINGS } from "../../guitar/fingering.js";
import type { TextureName } from "../../options/options.js";
import { type Candidate, supportCount } from "../candidate.js";
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
}

/** Points for getting from one grip to the next, whatever the two are worth by themselves. */
export function moveCost(from: Candidate, to: Candidate, terms: MoveTerms, weights: MoveWeights): number {
  const { seconds, texture } = terms;
  const mm = travelMm(from, to);
  let points = travelCost(mm, seconds, texture, weights.travel) + fingerChangeCost(from, to, weights.fingers);
  if (mm > terms.mmPerSecond * seconds) points += weights.tooFast[texture];
  points += voiceLeadingCost(from, to, texture, weights.voices);
  points += stringSetCost(from, to, texture, weights);
  if (terms.isRepeated && isRegripped(from, to)) points += weights.regrippedOnRepeat;
  if ((supportCount(to) === 0) !== (supportCount(from) === 0)) points += weights.inAndOutOfHarmony;
  return Math.round(points);
}

function stringSetCost(from: Candidate, to: Candidate, texture: TextureName, weights: MoveWeights): number {
  if (to.attack === "held" || supportCount(from) === 0 || supportCount(to) === 0) return 0;
  return changesStringSet(from, to) ? weights.stringSetChanged[texture] : 0;
}

/** Whether a finger bars so many strings that holding it tires the hand. */
export const isTiring = ({ fromOfFinger, toOfFinger }: Candidate): boolean =>
  fromOfFinger.some((from, finger) => from - (toOfFinger[finger] ?? 0) + 1 >= TIRING_BARRE_STRINGS);

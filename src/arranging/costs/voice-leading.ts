import type { TextureName } from "../../options/options.js";
import { type Candidate, supportCount } from "../candidate.js";
import type { VoiceWeights } from "./cost-table.js";

/**
 * Points for what the supporting voices do on the way to another chord: each moves from the old pitch it is
 * matched with, where the melody steps nearly free for a step and dear for a leap; where the melody leaps,
 * they may leap as far as it does. A voice that is new or gone has its price.
 */
export function voiceLeadingCost(
  from: Candidate,
  to: Candidate,
  texture: TextureName,
  weights: VoiceWeights,
): number {
  const before = supportCount(from);
  const after = supportCount(to);
  if (to.attack === "held" || before === 0 || after === 0) return 0;
  // Sung voices lead themselves.
  if (from.lines !== undefined && to.lines !== undefined) return 0;
  const melodyLeap = Math.abs((from.midis.at(-1) ?? 0) - (to.midis.at(-1) ?? 0));
  const free = Math.max(0, melodyLeap - weights.melodyStepSemitones);
  const moved =
    before <= after
      ? matched(from, before, to, after, free, weights)
      : matched(to, after, from, before, free, weights);
  // What of a chord has been let go meanwhile is struck again without its being a new voice.
  const changed = from.isThinned && after > before ? 0 : Math.abs(before - after);
  return (moved + changed * weights.voiceComesOrGoes) * weights.scale[texture];
}

/** The least that the voices of the smaller grip cost on their way to as many of the other's, none crossing. */
function matched(
  fewer: Candidate,
  few: number,
  more: Candidate,
  many: number,
  free: number,
  { eachVoice }: VoiceWeights,
): number {
  const cost = (one: number, other: number) => {
    const semitones = Math.abs((fewer.midis[one] ?? 0) - (more.midis[other] ?? 0));
    return eachVoice[Math.min(eachVoice.length - 1, Math.max(0, semitones - free))] ?? 0;
  };
  if (few === many) {
    let points = 0;
    for (let voice = 0; voice < few; voice += 1) points += cost(voice, voice);
    return points;
  }
  const least = (one: number, other: number): number => {
    if (one === few) return 0;
    let best = Number.POSITIVE_INFINITY;
    for (let next = other; next <= many - (few - one); next += 1)
      best = Math.min(best, cost(one, next) + least(one + 1, next + 1));
    return best;
  };
  return least(0, 0);
}

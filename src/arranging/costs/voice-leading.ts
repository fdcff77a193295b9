import type { TextureName } from "../../options/options.js";
import { VOICES } from "../grips/grip-rows.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { VoiceWeights } from "./cost-table.js";

/**
 * Points for what the supporting voices do on the way to another chord: each moves from the old pitch it is
 * matched with, where the melody steps nearly free for a step and dear for a leap; where the melody leaps,
 * they may leap as far as it does. A voice that is new or gone has its price.
 */
export function voiceLeadingCost(
  earlier: PackedColumn,
  from: number,
  later: PackedColumn,
  to: number,
  texture: TextureName,
  weights: VoiceWeights,
): number {
  const before = earlier.supports[from] ?? 0;
  const after = later.supports[to] ?? 0;
  if (later.isHeld[to] === 1 || before === 0 || after === 0) return 0;
  // Sung voices lead themselves.
  if (earlier.isSung && later.isSung) return 0;
  const melodyLeap = Math.abs((earlier.top[from] ?? 0) - (later.top[to] ?? 0));
  const free = Math.max(0, melodyLeap - weights.melodyStepSemitones);
  const moved =
    before <= after
      ? matched(earlier, from * VOICES, before, later, to * VOICES, after, free, weights)
      : matched(later, to * VOICES, after, earlier, from * VOICES, before, free, weights);
  // What of a chord has been let go meanwhile is struck again without its being a new voice.
  const changed = earlier.isThinned[from] === 1 && after > before ? 0 : Math.abs(before - after);
  return (moved + changed * weights.voiceComesOrGoes) * weights.scale[texture];
}

/** The least that the voices of the smaller grip cost on their way to as many of the other's, none crossing. */
function matched(
  fewer: PackedColumn,
  first: number,
  few: number,
  more: PackedColumn,
  other: number,
  many: number,
  free: number,
  weights: VoiceWeights,
): number {
  if (few === 0) return 0;
  let best = Number.POSITIVE_INFINITY;
  for (let left = 0; left <= many - few; left += 1) {
    const here = voiceCost(fewer.voices[first] ?? 0, more.voices[other + left] ?? 0, free, weights);
    if (here >= best) continue;
    best = Math.min(
      best,
      here + matched(fewer, first + 1, few - 1, more, other + left + 1, many - left - 1, free, weights),
    );
  }
  return best;
}

function voiceCost(one: number, other: number, free: number, { eachVoice }: VoiceWeights): number {
  const semitones = Math.max(0, Math.abs(one - other) - free);
  return eachVoice[Math.min(eachVoice.length - 1, semitones)] ?? 0;
}

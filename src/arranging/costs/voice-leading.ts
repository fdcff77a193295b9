import type { TextureName } from "../../options/options.js";
import { VOICES } from "../grips/grip-rows.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { VoiceWeights } from "./cost-table.js";

/**
 * Points for what the supporting voices do on the way to another chord: each moves from the old pitch it is
 * matched with, where the melody steps nearly free for a step and dear for a leap; where the melody leaps,
 * they may leap as far as it does. A voice that is new or gone has its price. A bass under two voices and more
 * that is the root, or the bass of the symbol, is led as a bass: it leaps and rests more freely.
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
  let [first, other] = [from * VOICES, to * VOICES];
  let [few, many] = [before, after];
  let bass = 0;
  const most = Math.max(before, after);
  if (later.isOnRoot[to] === 1 && Math.min(before, after) >= WITH_BASS) {
    bass = voiceCost(earlier.voices[first] ?? 0, later.voices[other] ?? 0, free, weights) * weights.bassShare;
    [first, few, other, many] = [first + 1, few - 1, other + 1, many - 1];
  } else if (earlier.voices[first] === later.voices[other]) {
    // The lowest stays: what comes or goes is above it.
    [first, few, other, many] = [first + 1, few - 1, other + 1, many - 1];
  } else if (later.isOnRoot[to] === 1 && after === before + 1 && most >= WITH_BASS) {
    bass = earlier.isThinned[from] === 1 ? 0 : weights.bassComesOrGoes;
    [other, many] = [other + 1, many - 1];
  } else if (earlier.isOnRoot[from] === 1 && before === after + 1 && most >= WITH_BASS) {
    bass = weights.bassComesOrGoes;
    [first, few] = [first + 1, few - 1];
  }
  const moved =
    few <= many
      ? matched(earlier, first, few, later, other, many, free, weights)
      : matched(later, other, many, earlier, first, few, free, weights);
  // What of a chord has been let go meanwhile is struck again without its being a new voice.
  // The fifth note of a full chord doubles another: it is no voice that comes or goes.
  const doubled = Number(most > WITH_BASS && Math.min(before, after) <= WITH_BASS);
  const changed =
    earlier.isThinned[from] === 1 && many > few ? 0 : Math.max(0, Math.abs(many - few) - doubled);
  return (bass + moved + changed * weights.voiceComesOrGoes) * weights.scale[texture];
}

/** So many supporting notes are a bass and inner voices. */
const WITH_BASS = 3;

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

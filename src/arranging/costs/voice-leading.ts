import type { TextureName } from "../../options/options.js";
import { VOICES } from "../grips/grip-rows.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { VoiceWeights } from "./cost-table.js";

/**
 * Points for what the supporting voices do on the way to another chord: each moves from the old pitch it is
 * matched with, where the melody steps nearly free for a step and dear for a leap; where the melody leaps,
 * they may leap as far as it does. A voice that is new or gone has its price. A bass under two voices and more
 * that is the root, or the bass of the symbol, is led as a bass: it leaps and rests more freely, and may come under
 * the voices of before, or go from under them, while they go on.
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
  const first = from * VOICES;
  const other = to * VOICES;
  const isThinned = earlier.isThinned[from] === 1;
  // The fifth note of a full chord doubles another: it is no voice that comes or goes.
  const doubled = Number(Math.max(before, after) > WITH_BASS && Math.min(before, after) <= WITH_BASS);
  const isToRoot = later.isOnRoot[to] === 1;
  // Without the lowest of either, which are led as a bass; or, where it stays, what comes or goes is above it.
  const isLed = isToRoot && Math.min(before, after) >= WITH_BASS;
  const apart = Number(isLed || earlier.voices[first] === later.voices[other]);
  let points = voicesCost(
    earlier,
    first + apart,
    before - apart,
    later,
    other + apart,
    after - apart,
    free,
    isThinned,
    doubled,
    weights,
  );
  if (isLed) {
    const bass = voiceCost(earlier.voices[first] ?? 0, later.voices[other] ?? 0, free, weights);
    points += bass * weights.bassShare;
  }
  if (isToRoot && after >= WITH_BASS && after >= before) {
    const bass = isThinned && after > before ? 0 : weights.bassComesOrGoes;
    if (bass < points)
      points = Math.min(
        points,
        bass +
          voicesCost(earlier, first, before, later, other + 1, after - 1, free, isThinned, doubled, weights),
      );
  }
  if (earlier.isOnRoot[from] === 1 && before >= WITH_BASS && before >= after) {
    const bass = weights.bassComesOrGoes;
    if (bass < points)
      points = Math.min(
        points,
        bass +
          voicesCost(earlier, first + 1, before - 1, later, other, after, free, isThinned, doubled, weights),
      );
  }
  return points * weights.scale[texture];
}

/** So many supporting notes are a bass and inner voices. */
const WITH_BASS = 3;

/**
 * Points for so many voices, from `first` of the earlier grip's and from `other` of the later one's: for those that go
 * on, and for those that are new or gone. What of a chord has been let go meanwhile is struck again without its being a
 * new voice.
 */
function voicesCost(
  earlier: PackedColumn,
  first: number,
  before: number,
  later: PackedColumn,
  other: number,
  after: number,
  free: number,
  isThinned: boolean,
  doubled: number,
  weights: VoiceWeights,
): number {
  const moved =
    before <= after
      ? matched(earlier, first, before, later, other, after, free, weights)
      : matched(later, other, after, earlier, first, before, free, weights);
  const changed = isThinned && after > before ? 0 : Math.max(0, Math.abs(after - before) - doubled);
  return moved + changed * weights.voiceComesOrGoes;
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

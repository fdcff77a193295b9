import type { Moment } from "./moments.js";
import { maskOf, READ_CHORDS } from "./read-chords.js";
import type { ReadingWeights } from "./weights.js";

const MASKS = Int32Array.from(READ_CHORDS, ({ tones }) => maskOf(tones));
const BASSES = Int32Array.from(READ_CHORDS, ({ bass }) => bass);

const PERFECT_FIFTH = 7;

/**
 * What each chord costs as the one harmony of the moments from `first` on, given moment by moment as the
 * span grows: foreign notes by their treatment and length, the bass, and tones that nobody sings. One
 * number a chord of `READ_CHORDS`; the list is overwritten at each step.
 */
export function* growingSpan(
  moments: readonly Moment[],
  first: number,
  last: number,
  standing: Int32Array,
  weights: ReadingWeights,
): Generator<Int32Array> {
  const heard = standing.slice();
  const whole = new Int32Array(READ_CHORDS.length);
  let sung = 0;
  let atFirst = 0;
  for (let index = first; index < last; index += 1) {
    const moment = moments[index];
    if (moment === undefined) return;
    const isStart = index === first;
    const isStrong = moment.weight > 0 ? 1 : 0;
    for (const { pitchClass, beginsHere, treatment } of moment.notes) {
      const bit = 1 << pitchClass;
      sung |= bit;
      if (isStart) atFirst |= bit;
      const once = isStart || beginsHere ? weights.foreign[treatment][isStrong] : 0;
      const charge = once + Math.round(weights.foreignEachBeat * moment.beats);
      for (let chord = 0; chord < heard.length; chord += 1)
        if (((MASKS[chord] ?? 0) & bit) === 0) heard[chord] = (heard[chord] ?? 0) + charge;
    }
    const lowest = moment.notes[0]?.pitchClass;
    if (lowest !== undefined) {
      const bit = 1 << lowest;
      const atStart = weights.otherBassAtStart;
      const eachBeat = weights.otherBassEachBeat;
      const tone = Math.round(eachBeat.tone * moment.beats) + (isStart ? atStart.tone : 0);
      const foreign = Math.round(eachBeat.foreign * moment.beats) + (isStart ? atStart.foreign : 0);
      for (let chord = 0; chord < heard.length; chord += 1)
        if (BASSES[chord] !== lowest)
          heard[chord] = (heard[chord] ?? 0) + (((MASKS[chord] ?? 0) & bit) === 0 ? foreign : tone);
    }
    for (let chord = 0; chord < heard.length; chord += 1)
      whole[chord] =
        (heard[chord] ?? 0) + missingCost(chord, sung, weights) + lateCost(chord, atFirst, weights);
    yield whole;
  }
}

function missingCost(chord: number, sung: number, { missing }: ReadingWeights): number {
  const absent = (MASKS[chord] ?? 0) & ~sung;
  if (absent === 0) return 0;
  let points = 0;
  const tones = READ_CHORDS[chord]?.tones ?? [];
  const isAltered = ((tones[2] ?? 0) - (tones[0] ?? 0) + 12) % 12 !== PERFECT_FIFTH;
  const fifth = isAltered ? missing.alteredFifth : missing.fifth;
  const prices = [missing.root, missing.third, fifth, missing.seventh];
  for (const [place, tone] of tones.entries()) if ((absent & (1 << tone)) !== 0) points += prices[place] ?? 0;
  return points;
}

/** A chord with a seventh that only comes in later. */
const lateCost = (chord: number, atFirst: number, { seventhLater }: ReadingWeights): number => {
  const seventh = READ_CHORDS[chord]?.tones[3];
  return seventh === undefined || (atFirst & (1 << seventh)) !== 0 ? 0 : seventhLater;
};

/** What each chord costs wherever it stands: its kind, its inversion, its tones out of the key. */
export function standingCosts(scale: number, weights: ReadingWeights): Int32Array {
  return Int32Array.from(READ_CHORDS, ({ kind, inversion, tones }) => {
    const outside = tones.filter((tone) => (scale & (1 << tone)) === 0).length;
    return weights.kind[kind] + (weights.inversion[inversion] ?? 0) + outside * weights.outOfKey;
  });
}

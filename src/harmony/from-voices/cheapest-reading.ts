import type { Moment } from "./moments.js";
import { READ_CHORDS, type ReadChord } from "./read-chords.js";
import { growingSpan, standingCosts } from "./span-costs.js";
import type { ReadingWeights } from "./weights.js";

/** A stretch of moments under one chord. */
export interface ReadSpan {
  readonly first: number;
  /** The moment after its last. */
  readonly last: number;
  readonly chord: ReadChord;
  /** The best reading in which another chord begins here, and what it would cost the whole more. */
  readonly other: { readonly chord: ReadChord; readonly extraCost: number } | undefined;
}

/** Longest span that is weighed whole; a longer chord is read as the same chord again. */
const LONGEST_BEATS = 8;
const LONGEST_MOMENTS = 24;

/**
 * The cheapest way to cut the moments into spans of harmony and name each: cutting and naming are one
 * search over all spans and all chords (a semi-Markov dynamic programme), exact to the point; of equal
 * readings the later change, then the chord listed first.
 *
 * `forward[end][chord]` is the cheapest reading of everything before `end` whose last span has that chord; with
 * the same from the end backwards, the exact cost of the best reading with another chord somewhere is a sum.
 */
export function cheapestReading(
  moments: readonly Moment[],
  scaleAt: (moment: Moment) => number,
  weights: ReadingWeights,
): readonly ReadSpan[] {
  const chords = READ_CHORDS.length;
  const ends = moments.map((_, first) => lastOfSpan(moments, first));
  const spansFrom = (first: number): Iterable<Int32Array> => {
    const moment = moments[first];
    if (moment === undefined) return [];
    return growingSpan(
      moments,
      first,
      ends[first] ?? first,
      standingCosts(scaleAt(moment), weights),
      weights,
    );
  };
  const forward = [new Float64Array(chords)];
  const cameFrom: Int32Array[] = [new Int32Array(chords)];
  const arrived: Float64Array[] = [];
  const chordBefore: Int32Array[] = [];
  for (let end = 1; end <= moments.length; end += 1) {
    forward.push(new Float64Array(chords).fill(Number.POSITIVE_INFINITY));
    cameFrom.push(new Int32Array(chords).fill(-1));
  }
  for (let first = 0; first < moments.length; first += 1) {
    const before = forward[first] ?? new Float64Array(chords);
    const arrival = new Float64Array(chords);
    const from = new Int32Array(chords).fill(-1);
    if (first > 0) arriveAt(moments[first]?.weight ?? 0, before, arrival, from, weights);
    arrived.push(arrival);
    chordBefore.push(from);
    let end = first;
    for (const costs of spansFrom(first)) {
      end += 1;
      const there = forward[end];
      const back = cameFrom[end];
      if (there === undefined || back === undefined) break;
      for (let chord = 0; chord < chords; chord += 1) {
        const cost = (arrival[chord] ?? 0) + (costs[chord] ?? 0);
        if (cost <= (there[chord] ?? 0)) {
          there[chord] = cost;
          back[chord] = first;
        }
      }
    }
  }
  const fromHere = backward();
  const total = Math.min(...(forward[moments.length] ?? []));
  return tracedBack();

  /** By moment and chord: the cheapest reading from that moment on, if a span with that chord begins there. */
  function backward(): readonly Float64Array[] {
    const beginning = moments.map(() => new Float64Array(chords).fill(Number.POSITIVE_INFINITY));
    let after = new Float64Array(chords);
    const afters: Float64Array[] = [];
    afters[moments.length] = after;
    for (let first = moments.length - 1; first >= 0; first -= 1) {
      const here = beginning[first] ?? after;
      let end = first;
      for (const costs of spansFrom(first)) {
        end += 1;
        const rest = afters[end];
        for (let chord = 0; chord < chords; chord += 1) {
          const cost = (costs[chord] ?? 0) + (rest?.[chord] ?? 0);
          if (cost < (here[chord] ?? 0)) here[chord] = cost;
        }
      }
      after = new Float64Array(chords);
      if (first > 0) leaveFrom(moments[first]?.weight ?? 0, here, after, weights);
      afters[first] = after;
    }
    return beginning;
  }

  /** The best reading in which a chord of another root begins where this span does: a seventh more is no other reading. */
  function otherThan(chosen: ReadChord, first: number): ReadSpan["other"] {
    let other: ReadSpan["other"];
    READ_CHORDS.forEach((chord, index) => {
      if (chord.root === chosen.root) return;
      const extraCost = (arrived[first]?.[index] ?? 0) + (fromHere[first]?.[index] ?? 0) - total;
      if (other === undefined || extraCost < other.extraCost) other = { chord, extraCost };
    });
    return other;
  }

  function tracedBack(): readonly ReadSpan[] {
    const found: ReadSpan[] = [];
    let end = moments.length;
    let chord = indexOfLeast(forward[end] ?? new Float64Array(chords));
    while (end > 0) {
      const first = cameFrom[end]?.[chord] ?? 0;
      const named = READ_CHORDS[chord];
      if (named === undefined) break;
      found.push({ first, last: end, chord: named, other: otherThan(named, first) });
      chord = chordBefore[first]?.[chord] ?? 0;
      end = first;
    }
    return found.reverse();
  }
}

function lastOfSpan(moments: readonly Moment[], first: number): number {
  let beats = 0;
  let last = first;
  while (
    last < moments.length &&
    last - first < LONGEST_MOMENTS &&
    (beats < LONGEST_BEATS || last === first)
  ) {
    beats += moments[last]?.beats ?? 0;
    last += 1;
  }
  return last;
}

/** Cheapest way to each chord from any chord before it. */
const arriveAt = (
  weight: number,
  before: Float64Array,
  arrival: Float64Array,
  from: Int32Array,
  weights: ReadingWeights,
): void => changes(weight, before, arrival, from, weights, (earlier, later) => later - earlier);

/** Cheapest way on from each chord to any chord after it. */
const leaveFrom = (
  weight: number,
  after: Float64Array,
  leaving: Float64Array,
  weights: ReadingWeights,
): void =>
  changes(
    weight,
    after,
    leaving,
    new Int32Array(leaving.length),
    weights,
    (later, earlier) => later - earlier,
  );

/** From each chord the cheapest neighbour: the same chord again, another bass or kind of it, another root. */
function changes(
  weight: number,
  before: Float64Array,
  arrival: Float64Array,
  from: Int32Array,
  weights: ReadingWeights,
  motionOf: (neighbour: number, root: number) => number,
): void {
  const change = weights.change[weight] ?? 0;
  const ofBass = Math.round((change * weights.changeOfBassPercent) / 100);
  const ofKind = Math.round((change * weights.changeOfKindPercent) / 100);
  const bestOfRoot = new Float64Array(12).fill(Number.POSITIVE_INFINITY);
  const chordOfRoot = new Int32Array(12).fill(-1);
  const bestOfKind = new Float64Array(READ_CHORDS.length).fill(Number.POSITIVE_INFINITY);
  const chordOfKind = new Int32Array(READ_CHORDS.length).fill(-1);
  READ_CHORDS.forEach(({ root, inversion }, chord) => {
    const cost = before[chord] ?? Number.POSITIVE_INFINITY;
    if (cost < (bestOfRoot[root] ?? 0)) {
      bestOfRoot[root] = cost;
      chordOfRoot[root] = chord;
    }
    const inRootPosition = chord - inversion;
    if (cost < (bestOfKind[inRootPosition] ?? 0)) {
      bestOfKind[inRootPosition] = cost;
      chordOfKind[inRootPosition] = chord;
    }
  });
  READ_CHORDS.forEach(({ root, inversion }, chord) => {
    let least = before[chord] ?? Number.POSITIVE_INFINITY;
    let best = chord;
    const consider = (cost: number, other: number) => {
      if (cost < least) {
        least = cost;
        best = other;
      }
    };
    consider((bestOfKind[chord - inversion] ?? 0) + ofBass, chordOfKind[chord - inversion] ?? 0);
    consider((bestOfRoot[root] ?? 0) + ofKind, chordOfRoot[root] ?? 0);
    for (let other = 0; other < 12; other += 1) {
      const motion = weights.rootMotion[(motionOf(other, root) + 12) % 12] ?? 0;
      if (other !== root) consider((bestOfRoot[other] ?? 0) + change + motion, chordOfRoot[other] ?? 0);
    }
    arrival[chord] = least;
    from[chord] = best;
  });
}

function indexOfLeast(costs: Float64Array): number {
  let least = 0;
  for (let index = 1; index < costs.length; index += 1)
    if ((costs[index] ?? 0) < (costs[least] ?? 0)) least = index;
  return least;
}

import type { Measure } from "../../song/tune.js";
import {
  isWritable,
  type NoteValue,
  ratioFor,
  singleValue,
  type TupletRatio,
  ticksOf,
} from "./note-value.js";

/** A stretch of time with the value it is written as; pieces of one sound are tied. */
export interface Piece {
  readonly at: number;
  readonly length: number;
  /** undefined where no value can be found; the duration is exact all the same. */
  readonly value: NoteValue | undefined;
}

/**
 * A stretch of time as written values within one measure. One value where there is one; otherwise cut
 * where a reader counts: at the middle of the bar, then at the next beat, then longest value first.
 *
 * @param ratio of the tuplet the stretch stands in; found where it is needed and not given
 */
export function splitDuration(
  at: number,
  length: number,
  measure: Measure,
  ticksPerQuarter: number,
  ratio: TupletRatio | undefined = ratioFor(length, ticksPerQuarter),
): readonly Piece[] {
  if (length <= 0) return [];
  const middle = ratio === undefined ? middleOf(measure, ticksPerQuarter) : undefined;
  if (middle !== undefined && hidesMiddle(at, length, middle, measure, ticksPerQuarter))
    return [
      ...splitDuration(at, middle - at, measure, ticksPerQuarter),
      ...splitDuration(middle, at + length - middle, measure, ticksPerQuarter),
    ];
  const value = singleValue(length, ticksPerQuarter, ratio, 1);
  if (value !== undefined) return [{ at, length, value }];
  const beat = beatTicks(measure, ticksPerQuarter);
  const intoBeat = (at - measure.start) % beat;
  const toNextBeat = beat - intoBeat;
  if (
    (intoBeat > 0 || isCompound(measure)) &&
    toNextBeat < length &&
    isWritable(toNextBeat, ticksPerQuarter, ratio)
  )
    return cutAt(toNextBeat, at, length, measure, ticksPerQuarter, ratio);
  const longest = longestBelow(length, ticksPerQuarter, ratio);
  if (longest === undefined) return [{ at, length, value: undefined }];
  return cutAt(longest, at, length, measure, ticksPerQuarter, ratio);
}

/**
 * Whether one value over the middle of the bar would hide it. From the first beat it does not, nor on a
 * beat where it lasts to the end of the bar: a dotted half note on the second beat of four is read at sight.
 */
function hidesMiddle(
  at: number,
  length: number,
  middle: number,
  measure: Measure,
  ticksPerQuarter: number,
): boolean {
  if (at <= measure.start || at >= middle || at + length <= middle) return false;
  const isOnBeat = (at - measure.start) % beatTicks(measure, ticksPerQuarter) === 0;
  const isToEnd = at + length === measure.start + measure.length;
  return !(isOnBeat && isToEnd && singleValue(length, ticksPerQuarter, undefined, 1) !== undefined);
}

const cutAt = (
  ticks: number,
  at: number,
  length: number,
  measure: Measure,
  ticksPerQuarter: number,
  ratio: TupletRatio | undefined,
): readonly Piece[] => [
  ...splitDuration(at, ticks, measure, ticksPerQuarter, ratio),
  ...splitDuration(at + ticks, length - ticks, measure, ticksPerQuarter, ratio),
];

/** Ticks of the longest undotted value that is shorter than a length and whole in ticks. */
function longestBelow(length: number, ticksPerQuarter: number, ratio?: TupletRatio): number | undefined {
  for (const type of [
    "breve",
    "whole",
    "half",
    "quarter",
    "eighth",
    "16th",
    "32nd",
    "64th",
    "128th",
  ] as const) {
    const ticks = ticksOf({ type, dots: 0, ratio }, ticksPerQuarter);
    if (ticks < length && Number.isInteger(ticks)) return ticks;
  }
  return undefined;
}

/** Whether the beats of a meter are dotted: 6/8, 9/8, 12/8, 6/4 ... */
export const isCompound = ({ meter }: Measure): boolean =>
  meter !== undefined && meter.beats > 3 && meter.beats % 3 === 0 && meter.beatType >= 4;

/** Ticks of one counted beat; a quarter where there is no meter. */
export function beatTicks(measure: Measure, ticksPerQuarter: number): number {
  if (measure.meter === undefined) return ticksPerQuarter;
  const unit = (ticksPerQuarter * 4) / measure.meter.beatType;
  const beat = isCompound(measure) ? unit * 3 : unit;
  return Number.isInteger(beat) && beat > 0 ? beat : ticksPerQuarter;
}

/** The middle of a full bar of four beats, or of two or four dotted ones, which readers want to see. */
function middleOf(measure: Measure, ticksPerQuarter: number): number | undefined {
  if (measure.meter === undefined) return undefined;
  const { beats, beatType } = measure.meter;
  const full = (ticksPerQuarter * 4 * beats) / beatType;
  const counted = isCompound(measure) ? beats / 3 : beats;
  const hasMiddle = counted === 4 || (isCompound(measure) && counted === 2);
  return hasMiddle && measure.length === full && full % 2 === 0 ? measure.start + full / 2 : undefined;
}

import type { Measure } from "../../song/tune.js";
import {
  isWritable,
  type NoteValue,
  ratioFor,
  singleValue,
  type TupletRatio,
  ticksOf,
  USUAL_NOTE_TYPES,
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
  const pieces: Piece[] = [];
  const end = at + length;
  let from = at;
  let ratioHere = ratio;
  while (from < end) {
    const cut = firstCut(from, end - from, measure, ticksPerQuarter, ratioHere);
    if (cut.kind === "piece") {
      pieces.push(cut.piece);
      break;
    }
    const until = from + cut.ticks;
    const first =
      cut.kind === "beat"
        ? splitDuration(from, cut.ticks, measure, ticksPerQuarter, ratioHere)
        : splitDuration(from, cut.ticks, measure, ticksPerQuarter);
    pieces.push(...first);
    if (cut.kind === "middle") ratioHere = ratioFor(end - until, ticksPerQuarter);
    from = until;
  }
  return pieces;
}

/** What a stretch begins with: all of it as one piece, or so many ticks up to the middle of the bar or a beat. */
type Cut =
  | { readonly kind: "piece"; readonly piece: Piece }
  | { readonly kind: "middle" | "beat"; readonly ticks: number };

function firstCut(
  at: number,
  length: number,
  measure: Measure,
  ticksPerQuarter: number,
  ratio: TupletRatio | undefined,
): Cut {
  const middle = ratio === undefined ? middleOf(measure, ticksPerQuarter) : undefined;
  if (middle !== undefined && hidesMiddle(at, length, middle, measure, ticksPerQuarter))
    return { kind: "middle", ticks: middle - at };
  const value = singleValue(length, ticksPerQuarter, ratio, 1);
  if (value !== undefined) return { kind: "piece", piece: { at, length, value } };
  const beat = beatTicks(measure, ticksPerQuarter);
  const intoBeat = (at - measure.start) % beat;
  const toNextBeat = beat - intoBeat;
  if (
    (intoBeat > 0 || isCompound(measure)) &&
    toNextBeat < length &&
    isWritable(toNextBeat, ticksPerQuarter, ratio)
  )
    return { kind: "beat", ticks: toNextBeat };
  const longest = longestBelow(length, ticksPerQuarter, ratio);
  if (longest === undefined) return { kind: "piece", piece: { at, length, value: undefined } };
  return { kind: "beat", ticks: longest };
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

/** Ticks of the longest undotted value that is shorter than a length and whole in ticks. */
function longestBelow(length: number, ticksPerQuarter: number, ratio?: TupletRatio): number | undefined {
  for (const type of USUAL_NOTE_TYPES) {
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

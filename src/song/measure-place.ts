import { quartersPerBeat, roundedBeat } from "./beats.js";
import { lastUntil } from "./in-time-order.js";
import type { Meter } from "./tune.js";

/** A measure of a tune or of a guitar score, as far as a place in it is said. */
interface LabelledMeasure {
  readonly index: number;
  readonly label: string;
  readonly start: number;
  readonly meter: Meter | undefined;
}

/** What says where a tick stands: a tune, or a guitar score. */
export interface Measured {
  readonly measures: readonly LabelledMeasure[];
  readonly ticksPerQuarter: number;
}

/** Where a tick stands in the score, in written order. */
export interface MeasurePlace {
  /** Position in the part, from 1. */
  readonly measure: number;
  /** The measure's own number where it has one that differs. */
  readonly measureLabel?: string;
  /** Beats of the meter from the start of the measure, plus 1, to a thousandth: 2 is the fourth eighth of 6/8. */
  readonly beat: number;
}

/** Index of the last measure that begins no later than a tick; 0 where none does. */
export const measureIndexAt = ({ measures }: Measured, tick: number): number =>
  lastUntil(measures, tick, startOf)?.index ?? 0;

const startOf = ({ start }: LabelledMeasure): number => start;

/**
 * The measure and beat of a tick: in the last measure that begins no later, or in the one given by its
 * index. undefined where there is no such measure.
 */
export function measurePlace(
  { measures, ticksPerQuarter }: Measured,
  tick: number,
  index?: number,
): MeasurePlace | undefined {
  const measure = index === undefined ? lastUntil(measures, tick, startOf) : measures[index];
  if (measure === undefined) return undefined;
  const ordinal = measure.index + 1;
  return {
    measure: ordinal,
    ...(measure.label === String(ordinal) || measure.label === "" ? {} : { measureLabel: measure.label }),
    beat: roundedBeat(1 + (tick - measure.start) / (ticksPerQuarter * quartersPerBeat(measure.meter))),
  };
}

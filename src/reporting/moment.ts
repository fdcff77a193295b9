import type { Tune } from "../song/tune.js";
import { rounded } from "./rounded.js";

/** A moment of the score, in written order. */
export interface Moment {
  /** Position in the part, from 1. */
  readonly measure: number;
  /** The measure's own number where it differs. */
  readonly measureLabel?: string;
  /** Quarter notes from the start of the measure, plus 1. */
  readonly beat: number;
}

/** Where a tick stands in the score. */
export function momentAt(tune: Tune, tick: number): Moment {
  const measure = tune.measures.findLast(({ start }) => start <= tick);
  if (measure === undefined) return { measure: 1, beat: 1 };
  return {
    measure: measure.index + 1,
    ...(measure.label === String(measure.index + 1) ? {} : { measureLabel: measure.label }),
    beat: rounded(1 + (tick - measure.start) / tune.ticksPerQuarter),
  };
}

import { type MeasurePlace, measurePlace } from "../song/measure-place.js";
import type { Tune } from "../song/tune.js";

/** A moment of the score, in written order. */
export type Moment = MeasurePlace;

/** Where a tick stands in the score, as a report says it. */
export const momentAt = (tune: Tune, tick: number): Moment =>
  measurePlace(tune, tick) ?? { measure: 1, beat: 1 };

import { type MeasurePlace, measurePlace } from "../song/measure-place.js";
import type { Tune } from "../song/tune.js";
import { rounded } from "./rounded.js";

/** A moment of the score, in written order. */
export type Moment = MeasurePlace;

/** Where a tick stands in the score, as a report says it. */
export function momentAt(tune: Tune, tick: number): Moment {
  const place = measurePlace(tune, tick);
  return place === undefined ? { measure: 1, beat: 1 } : { ...place, beat: rounded(place.beat) };
}

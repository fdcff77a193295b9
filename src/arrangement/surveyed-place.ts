import type { Transposition } from "../song/transposition.js";
import type { Arrangement } from "./arrangement.js";

/** A tune arranged where it fits: in one key, at one octave. */
export interface SurveyedPlace {
  readonly transposition: Transposition;
  readonly arrangement: Arrangement;
}

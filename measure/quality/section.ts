import type { Arrangement } from "#built/arrangement/arrangement.js";
import type { Tune } from "#built/song/tune.js";
import type { Tally } from "./tally.js";

/** One arrangement that is looked at. */
export interface Judged {
  readonly file: string;
  /** The tune in the key that was arranged. */
  readonly tune: Tune;
  readonly arrangement: Arrangement;
  /** Fastest travel of the hand that was allowed, mm a second. */
  readonly shift: number;
  /** File, measure and beat of a tick. */
  readonly placeOf: (tick: number) => string;
}

/** One way to look at arrangements. What a section counts begins with its own word, so that none meets another's. */
export interface Section {
  readonly judge: (judged: Judged, tally: Tally) => void;
  /** What was found over all scores of a texture, in lines. */
  readonly lines: (tally: Tally) => readonly string[];
}

import type { Instrument } from "../guitar/instrument.js";
import type { Restrike, RightHand, TextureName } from "../options/options.js";
import type { Wish } from "../wishes/wishes.js";
import type { BassKind } from "./bass/bass-line.js";

/** What an arrangement is asked for. */
export interface TuneWishes {
  readonly instrument: Instrument;
  /** Strings the melody may use, 1 the highest. */
  readonly melodyStrings: readonly number[];
  readonly texture: TextureName;
  /** Notes in a grip, melody included. */
  readonly notes: "auto" | 3 | 4;
  /** Whether a chord change in a rest of the melody is struck. */
  readonly rests: "silent" | "struck";
  /** How often the fluent texture strikes a chord that lasts again. */
  readonly restrike: Restrike;
  /** What the bass plays under the chord melody. */
  readonly bass: BassKind;
  /** What strikes the strings. */
  readonly rightHand: RightHand;
  /** Fastest travel of the hand, mm a second. */
  readonly shift: number;
  /** Quarter notes a minute in place of the tune's own. */
  readonly tempo: number | undefined;
  /** The player's own wishes, in the order given. */
  readonly wishes: readonly Wish[];
  /** How many other ways to play each event are worked out. */
  readonly alternatives: number;
}

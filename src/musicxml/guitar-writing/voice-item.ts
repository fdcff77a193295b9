import type { Placement } from "../../arrangement/arrangement.js";
import type { Pitch } from "../../song/pitch.js";
import type { WrittenNote } from "../lead-sheet/lead-sheet.js";
import type { Quarters } from "../timeline/exact-time.js";
import type { NoteValue, TupletRatio } from "./note-value.js";

/** One string of the guitar as both staves show it for the length of one written note. */
export interface PartNote {
  /** Sounding. */
  readonly pitch: Pitch;
  /** undefined only for a grace note that nobody fingered. */
  readonly placement: Placement | undefined;
  /** Joined by tie to what stands before it: no new attack. */
  readonly tiedFrom: boolean;
  readonly tiedOn: boolean;
  /** How long a melody note rings on under the next ones. */
  readonly ringsBeyond?: Quarters | undefined;
}

/** What stands in a voice from one time to the next. Times in ticks of the tune. */
export interface VoiceItem {
  readonly kind: "notes" | "grace" | "rest" | "hidden-rest" | "gap";
  readonly at: number;
  /** 0 for a grace note. */
  readonly length: number;
  /** undefined for gaps, for bar rests no single value fits, and where no value can be found. */
  readonly value: NoteValue | undefined;
  /** Sounding notes, the highest (in voice 1 the melody) first; empty for rests and gaps. */
  readonly notes: readonly PartNote[];
  /** The melody's written note it stands for; undefined in voice 2. */
  readonly source: WrittenNote | undefined;
  /** First of the pieces that a written note was cut into: lyrics and ornaments stand here. */
  readonly isFirstPiece: boolean;
  /** Written with the value the lead sheet writes, so that its beams and tuplets fit. */
  readonly isAsWritten: boolean;
  /** A rest that is the whole measure. */
  readonly fillsMeasure: boolean;
  /** A tie that the lead sheet draws into what is played next, which is not what is written next. */
  readonly keepsTieDrawn: boolean;
  /** Tuplet groups that begin and end here, where they are ours to mark. */
  readonly tuplet: readonly ("start" | "stop")[];
}

export const itemOf = (
  item: Pick<VoiceItem, "kind" | "at" | "length" | "value"> & Partial<VoiceItem>,
): VoiceItem => ({
  notes: [],
  source: undefined,
  isFirstPiece: true,
  isAsWritten: false,
  fillsMeasure: false,
  keepsTieDrawn: false,
  tuplet: [],
  ...item,
});

/** A stretch of the melody that stands in one tuplet. */
export interface TupletGroup {
  readonly start: number;
  readonly end: number;
  readonly ratio: TupletRatio;
}

import type { Pitch } from "../song/pitch.js";
import type { ChordSpan, Jump, Measure, TempoMark } from "../song/tune.js";
import type { Finger } from "./grip.js";

/**
 * A guitar score as it stands in a file, ours or another's: times in whole ticks from the start, in
 * written order (repeats are not unfolded), pitches sounding.
 */
export interface GuitarScore {
  readonly title: string | undefined;
  readonly layout: GuitarLayout;
  readonly ticksPerQuarter: number;
  readonly measures: readonly Measure[];
  readonly chords: readonly ChordSpan[];
  readonly tempos: readonly TempoMark[];
  readonly jumps: readonly Jump[];
  readonly instrument: StatedInstrument;
  /** Every attack, ties joined, in time order and at one time from the lowest pitch up; grace notes among them. */
  readonly notes: readonly GuitarNote[];
  /** The tune that has to be heard on top, moved to the key of the guitar. */
  readonly melody: ScoreMelody;
  /** Semitones by which the whole notation staff stands above the TAB; 0 where they agree. */
  readonly notationAboveTab: number;
}

/** parts: notation and TAB in a part each. joined: two staves of one part. tab, notation: one of them alone. */
export type GuitarLayout = "parts" | "joined" | "tab" | "notation";

/** What a file says about the instrument; undefined where it says nothing. */
export interface StatedInstrument {
  /** Sounding MIDI number of each open string without capo, string 1 first. */
  readonly openStrings: readonly number[] | undefined;
  readonly capo: number | undefined;
}

/** One attack: what it is taken for, and what each staff says of it. */
export interface GuitarNote {
  /** Position in `GuitarScore.notes`. */
  readonly index: number;
  /** A grace note has no time of its own: its length is 0. */
  readonly kind: "note" | "grace";
  readonly onset: number;
  /** Ticks, ties joined; the notation's where the staves disagree. */
  readonly length: number;
  /** Index of the measure it starts in. */
  readonly measure: number;
  /** As the file has it: a label that may mean nothing. */
  readonly voice: string;
  readonly pitch: Pitch;
  readonly midi: number;
  /** 1 is the highest; undefined where neither staff says. */
  readonly string: number | undefined;
  /** From the nut or the capo; 0 is open. */
  readonly fret: number | undefined;
  /** 0 for an open string; undefined where neither staff says. */
  readonly finger: Finger | undefined;
  /** A tie from it leads to nothing, on the notation or where there is none on the TAB: it rings on. */
  readonly isLeftRinging: boolean;
  /** For so many ticks beyond its length, where that is said. */
  readonly ringsBeyond: number | undefined;
  readonly notation: StaffReading | undefined;
  readonly tab: StaffReading | undefined;
}

/** What one staff says about an attack. */
export interface StaffReading {
  readonly length: number;
  readonly pitch: Pitch;
  readonly midi: number;
  readonly string: number | undefined;
  readonly fret: number | undefined;
  readonly finger: Finger | undefined;
  /** A harmonic sounds elsewhere than its fret says. */
  readonly isHarmonic: boolean;
  readonly voice: string;
}

/** lead: read from the lead sheet beside the guitar. voice: taken from the guitar's own upper voice. */
export interface ScoreMelody {
  readonly source: "lead" | "voice";
  readonly notes: readonly ScoreMelodyNote[];
}

export interface ScoreMelodyNote {
  readonly onset: number;
  readonly length: number;
  readonly midi: number;
  /** Index of the measure it starts in. */
  readonly measure: number;
}

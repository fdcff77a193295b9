import type { ChordSymbol } from "./chord-symbol.js";
import type { Pitch } from "./pitch.js";
import type { Voice } from "./voices.js";

/**
 * What the tune is: times in whole ticks from the start of the score, in written order (repeats are
 * not unfolded). `ticksPerQuarter` divides every duration of the melody part and every chord position.
 */
export interface Tune {
  readonly title: string | undefined;
  readonly ticksPerQuarter: number;
  readonly measures: readonly Measure[];
  /** In time order, never overlapping. */
  readonly melody: readonly MelodyNote[];
  /** In time order, without gaps from the first symbol to the end of the tune. */
  readonly chords: readonly ChordSpan[];
  /** Tempo marks in time order; empty where the score states none. */
  readonly tempos: readonly TempoMark[];
  /** Key signatures by time, sounding; the first at tick 0 (0 fifths where the score has none). */
  readonly keys: readonly KeyMark[];
  /** From where to where playing jumps: end of a repeated strain to its start, an ending to the next. */
  readonly jumps: readonly Jump[];
  /** The whole of it as it is played, stretch after stretch; absent where that is once from beginning to end. */
  readonly playing?: readonly Stretch[];
  /** Every line of an ensemble, that of the melody too; absent where the score is no ensemble. */
  readonly voices?: readonly Voice[];
}

export interface Measure {
  /** Position in the part, from 0. */
  readonly index: number;
  /** The number attribute as it stands: a label. */
  readonly label: string;
  readonly start: number;
  readonly length: number;
  readonly meter: Meter | undefined;
}

/** Beats of a meter: 4/4 is [1,1,1,1] times a quarter; 6/8 two beats of three eighths. */
export interface Meter {
  readonly beats: number;
  readonly beatType: number;
}

export interface MelodyNote {
  /** Position in `Tune.melody`. */
  readonly index: number;
  readonly onset: number;
  /** Ticks, ties joined. */
  readonly length: number;
  /** Sounding, spelled as it came (moved by the part's transposition). */
  readonly pitch: Pitch;
  readonly midi: number;
  /** Index of the measure it starts in. */
  readonly measure: number;
  /** Before the first chord symbol of the tune. */
  readonly isPickup: boolean;
  /** A mark on it asks for silence before the next note. */
  readonly isDetached?: true;
  /** 3 on a downbeat, 2 on the middle beat of a bar, 1 on any other beat, 0 off the beat. */
  readonly weight: MetricWeight;
}

export type MetricWeight = 0 | 1 | 2 | 3;

/** From one chord symbol to the next; "no-chord" under N.C. */
export interface ChordSpan {
  readonly index: number;
  readonly start: number;
  readonly end: number;
  /** undefined under N.C. */
  readonly symbol: ChordSymbol | undefined;
  /** Index of the measure it starts in. */
  readonly measure: number;
}

export interface TempoMark {
  readonly at: number;
  readonly quartersPerMinute: number;
}

export interface KeyMark {
  readonly at: number;
  /** Sharps, or flats when negative. */
  readonly fifths: number;
  readonly mode: "major" | "minor" | undefined;
}

/** What is played without a jump, in ticks. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Playing goes on at `to` after `from` (ticks; `from` is the end of the last measure played). */
export interface Jump {
  readonly from: number;
  readonly to: number;
}

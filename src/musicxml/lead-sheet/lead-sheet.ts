import type { ChordSymbol } from "../../song/chord-symbol.js";
import type { Pitch } from "../../song/pitch.js";
import type { Tune } from "../../song/tune.js";
import type { XmlElement } from "../../xml/xml-tree.js";
import type { WrittenKey } from "../chords/read-harmony.js";

/** A tune together with what of its document the guitar part is written from. */
export interface LeadSheet {
  readonly tune: Tune;
  readonly source: LeadSheetSource;
}

export interface LeadSheetSource {
  /** The partwise root element that was read (regrouped from timewise where the file was that). */
  readonly score: XmlElement;
  readonly melodyPartId: string;
  /** Name of that part, for messages; may be empty. */
  readonly melodyPartName: string;
  readonly voice: string;
  readonly staff: string;
  /** Part that the chord symbols came from. */
  readonly harmonyPartId: string | undefined;
  /** Transposition of the melody's staff by time; empty where it is written as it sounds. Keys move by it. */
  readonly transpositions: readonly TimedTransposition[];
  /** One for each measure of the tune. */
  readonly measures: readonly SourceMeasure[];
  /** Every note, rest and grace note of the melody line, in time order: each measure filled from end to end. */
  readonly written: readonly WrittenNote[];
  /** Directions and lyrics that were read as chords, and are text no more. */
  readonly textsTaken: ReadonlySet<XmlElement>;
}

/** From written to sounding: steps of the staff and semitones, octaves included in both. */
export interface WrittenTransposition {
  readonly diatonic: number;
  readonly chromatic: number;
}

export interface TimedTransposition extends WrittenTransposition {
  readonly at: number;
}

/** One measure of the melody part with what is copied around the notes, by time. */
export interface SourceMeasure {
  readonly element: XmlElement;
  /** Keys and times of the melody's staff, as attributes elements with nothing else in them. */
  readonly attributes: readonly Timed[];
  /** `<harmony>` elements, from whichever part they were read, offset applied to `at`. */
  readonly harmonies: readonly TimedHarmony[];
  /** `<direction>` and bare `<sound>` elements of the melody's staff, offset applied to `at`. */
  readonly directions: readonly Timed[];
  readonly barlines: readonly {
    readonly location: "left" | "middle" | "right";
    readonly at: number;
    readonly element: XmlElement;
  }[];
}

export interface Timed {
  /** Ticks from the start of the score. */
  readonly at: number;
  readonly element: XmlElement;
}

/** A `<harmony>` as written, with what it says as it sounds. */
export interface TimedHarmony extends Timed {
  /** How its root and bass move from written to sounding. */
  readonly transposition: WrittenTransposition;
  /** The key signature that a numeral without a key of its own is a degree of, as written in its part. */
  readonly key: WrittenKey;
  /** undefined where it drives nothing: an alternate, an analysis, a second one at its time. */
  readonly chord: ChordSymbol | "no-chord" | undefined;
}

/** A note or rest as it stands on the staff; a tied chain is several. */
export interface WrittenNote {
  /** Position in `LeadSheetSource.written`. */
  readonly id: number;
  readonly kind: "note" | "rest" | "grace";
  readonly measure: number;
  readonly onset: number;
  /** Ticks; 0 for a grace note. */
  readonly length: number;
  /** The melody note it is (part of); undefined for rests and grace notes. */
  readonly melodyNote: number | undefined;
  /** Sounding pitch of a note or grace note. */
  readonly pitch: Pitch | undefined;
  /** Joined by tie to the written note after it (of the same melody note). */
  readonly tiedOn: boolean;
  /**
   * The `<note>` it came from: type, dots, time-modification, tuplets, beams, lyrics are read from it. A rest
   * may come from a cue or hidden note. undefined for a silence nothing was written for.
   */
  readonly element: XmlElement | undefined;
}

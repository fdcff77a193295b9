/**
 * What a reading of the harmony costs, in points; the cheapest reading of the whole score is taken. Every
 * weight of `chords-from-voices.ts` stands here. Order of size from the textbook account of non-chord tones
 * (Aldwell & Schachter, *Harmony and Voice Leading*, from memory: passing and neighbour notes, suspensions,
 * anticipations, leaps) and of harmonic rhythm (changes on strong beats); sizes calibrated on one half of a
 * published analysis of chorales, by hash of the file, and tested on the other: `npm run quality` shows both.
 */
export interface ReadingWeights {
  /** A foreign note, once, by how its voice comes to it and leaves it; off the beat and on it. */
  readonly foreign: Readonly<Record<Treatment, readonly [weak: number, strong: number]>>;
  /** A foreign note, for each beat it sounds. */
  readonly foreignEachBeat: number;
  /** A chord tone that nobody sings while the chord lasts. */
  readonly missing: {
    readonly root: number;
    readonly third: number;
    readonly fifth: number;
    /** A diminished or augmented one, without which the chord is another. */
    readonly alteredFifth: number;
    readonly seventh: number;
  };
  /** A seventh that does not sound where its chord begins: it passes, or a chord of its own begins with it. */
  readonly seventhLater: number;
  readonly kind: Readonly<Record<ReadKind, number>>;
  /** The chord with its root, third, fifth or seventh in the bass. */
  readonly inversion: readonly [number, number, number, number];
  /** The lowest note is another than the chord's bass, for each beat: a tone of the chord, a foreign note. */
  readonly otherBassEachBeat: { readonly tone: number; readonly foreign: number };
  /** The same where the chord begins, once. */
  readonly otherBassAtStart: { readonly tone: number; readonly foreign: number };
  /** A change of chord by the metric weight of its moment 0..3. */
  readonly change: readonly [number, number, number, number];
  /** Share of that, in percent, where only the bass changes, and where only the kind does. */
  readonly changeOfBassPercent: number;
  readonly changeOfKindPercent: number;
  /** From root to root, by semitones up 0..11. */
  readonly rootMotion: readonly number[];
  /** Each tone of the chord that is not in the key's scale; the raised seventh of minor is in it. */
  readonly outOfKey: number;
}

/** How a foreign note is come to and left. */
export type Treatment =
  | "passing"
  | "neighbour"
  | "suspension" // prepared, and resolved by step down
  | "retardation" // prepared, and resolved by step up
  | "anticipation"
  | "appoggiatura" // leapt to, left by step
  | "escape" // come to by step, leapt from
  | "pedal" // prepared, and held or struck again
  | "unprepared";

/** Chords that a reading may name. */
export type ReadKind =
  | "major"
  | "minor"
  | "diminished"
  | "augmented"
  | "dominant"
  | "minor-seventh"
  | "major-seventh"
  | "half-diminished"
  | "diminished-seventh";

export const READING_WEIGHTS: ReadingWeights = {
  foreign: {
    passing: [6, 28],
    neighbour: [8, 24],
    suspension: [16, 6],
    retardation: [16, 16],
    anticipation: [11, 20],
    appoggiatura: [20, 31],
    escape: [14, 28],
    pedal: [16, 20],
    unprepared: [17, 40],
  },
  foreignEachBeat: 12,
  missing: {
    root: 24,
    third: 30,
    fifth: 6,
    alteredFifth: 24,
    seventh: 60,
  },
  seventhLater: 10,
  kind: {
    major: 0,
    minor: 0,
    diminished: 3,
    augmented: 24,
    dominant: 3,
    "minor-seventh": 11,
    "major-seventh": 19,
    "half-diminished": 6,
    "diminished-seventh": 15,
  },
  inversion: [0, 0, 16, 6],
  otherBassEachBeat: {
    tone: 21,
    foreign: 4,
  },
  otherBassAtStart: {
    tone: 11,
    foreign: 10,
  },
  change: [13, 7, 6, 8],
  changeOfBassPercent: 29,
  changeOfKindPercent: 35,
  rootMotion: [0, 6, 4, 1, 6, 0, 8, 2, 4, 0, 1, 4],
  outOfKey: 4,
};

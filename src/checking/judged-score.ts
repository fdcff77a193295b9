import type { Finding, Place } from "../diagnostics.js";
import type { Finger } from "../guitar/grip.js";
import type { GuitarNote, GuitarScore } from "../guitar/guitar-score.js";
import type { Instrument } from "../guitar/instrument.js";
import { measurePlace } from "../song/measure-place.js";
import type { HandMove } from "./hand-moves.js";
import { handMoves } from "./hand-moves.js";
import { type Moment, momentsOf } from "./moments.js";

/** How a score is judged. */
export interface Measures {
  /** The score's own instrument where it states one; `frets` is the last on the neck. */
  readonly instrument: Instrument;
  /** Highest fret a player wants to see. */
  readonly highestFretWanted: number;
  /** Millimetres a second the hand may travel along the neck. */
  readonly shift: number;
  /** Quarter notes a minute in place of the score's own. */
  readonly tempo: number | undefined;
}

/** A guitar score laid out for judging: the same for every rule. */
export interface JudgedScore extends Measures {
  readonly score: GuitarScore;
  readonly moments: readonly Moment[];
  readonly moves: readonly HandMove[];
  /** Strings and frets are given: by TAB, or on the notation staff. */
  readonly hasStrings: boolean;
  readonly hasFingers: boolean;
}

/** Everything one rule has to say about a score. */
export type Rule = (judged: JudgedScore) => readonly Finding[];

export function judgedScore(score: GuitarScore, measures: Measures): JudgedScore {
  const moments = momentsOf(score, measures.instrument);
  return {
    ...measures,
    score,
    moments,
    moves: handMoves(score, moments, measures),
    hasStrings: score.layout !== "notation" || score.notes.some(({ string }) => string !== undefined),
    hasFingers: score.notes.some(({ finger }) => finger !== undefined && finger > 0),
  };
}

/** Where a time of the score is, in the words of a finding. */
export const placeAt = (score: GuitarScore, onset: number, index?: number): Place =>
  measurePlace(score, onset, index) ?? {};

export const placeOf = (score: GuitarScore, note: Pick<GuitarNote, "onset" | "measure">): Place =>
  placeAt(score, note.onset, note.measure);

/** "Bb4". */

/** "string 2 fret 5". */
export const stringText = ({ string, fret }: { readonly string: number; readonly fret: number }): string =>
  fret === 0 ? `open string ${string}` : `string ${string} fret ${fret}`;

const FINGER_NAMES = [
  "no finger",
  "the index finger",
  "the middle finger",
  "the ring finger",
  "the little finger",
];

export const fingerText = (finger: Finger): string => FINGER_NAMES[finger] ?? "";

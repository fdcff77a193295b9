import { fretPositionMm, type Instrument } from "./instrument.js";
import { onceAnInstrument } from "./once-an-instrument.js";

/** Two fingers of the left hand, the lower number first: 14 is index and little finger. */
export type FingerPair = 12 | 13 | 14 | 23 | 24 | 34;

/**
 * Widest distance along the neck between two fingers, in mm, for a hand of factor 1. 1-2, 2-3, 3-4, 1-3
 * and 2-4: the widest found in 3,228 fingered shapes of the open collection chords-db and in printed
 * public-domain scores, with a tenth of slack, since a four-fret diagram cannot show more. 1-4: five frets
 * at the nut of a 650 mm neck, the widest extension methods ask for (Nelson, "Basics of Guitar
 * Composition": four frets, up to six higher up the neck).
 */
const WIDEST_MM: Readonly<Record<number, number>> = { 12: 80, 23: 75, 34: 73, 13: 108, 24: 108, 14: 127 };

/** Distances at which a pair of fingers begins to strain: the 90-95 % quantiles of the same collection. */
const RELAXED_MM: Readonly<Record<number, number>> = { 12: 45, 23: 35, 34: 35, 13: 67, 24: 67, 14: 92 };

/**
 * Farthest a pair of fingers goes apart in a grip that is taken and left at tempo, mm. 1-2, 2-3 and 3-4: two
 * frets from the fourth, the fifth and the eighth on. The others: one fret more than a finger a fret, 1-3 from the
 * fourth on, 2-4 from the fifth, 1-4 from the sixth; at the nut a finger a fret. Wider is for slow music. Common
 * practice.
 */
const AT_TEMPO_MM: Readonly<Record<number, number>> = { 12: 57, 23: 55, 34: 45, 13: 84, 24: 80, 14: 98 };

/**
 * A fifth fret beside the four of a position is a stretch, wherever the hand is; from the eighth fret on it is narrow
 * enough to go by at tempo, mm. Common practice.
 */
const FIVE_FRETS_AT_TEMPO_MM = 86;

/** Frets that a hand in position covers, a finger each. */
export const FRETS_IN_POSITION = 4;

/** A pair of fingers by name. `lower` is the lower finger number. */
export const fingerPair = (lower: number, higher: number): FingerPair => (lower * 10 + higher) as FingerPair;

/** Whether a pair of fingers reaches over a distance along the neck. */
export const isInReach = (pair: FingerPair, distanceMm: number, handSize: number): boolean =>
  distanceMm <= (WIDEST_MM[pair] ?? 0) * handSize;

/** By how many mm a pair of fingers is beyond its relaxed span; 0 within it. */
export const strainMm = (pair: FingerPair, distanceMm: number, handSize: number): number =>
  Math.max(0, distanceMm - (RELAXED_MM[pair] ?? 0) * handSize);

/** By how many mm a pair of fingers is wider than it goes at tempo; 0 within that. */
export const beyondTempoMm = (pair: FingerPair, distanceMm: number, handSize: number): number =>
  Math.max(0, distanceMm - (AT_TEMPO_MM[pair] ?? 0) * handSize);

/** By how many mm a hand that covers five frets or more is wider than it goes at tempo; 0 within that. */
export const beyondFiveFretsMm = (distanceMm: number, handSize: number): number =>
  Math.max(0, distanceMm - FIVE_FRETS_AT_TEMPO_MM * handSize);

/** Size of the hand that plays an instrument against an average one: every span scales with it. */
export const handSizeOf = (instrument: Instrument): number => instrument.handSize ?? 1;

/** The size of a hand that reaches as far as this one may: what bounds a grip, where its ease goes by the hand itself. */
export const reachSizeOf = (instrument: Instrument): number =>
  handSizeOf(instrument) * (instrument.reach ?? 1);

/** The widest the hand that plays an instrument may reach along the neck, mm. */
export const widestHandMm = (instrument: Instrument): number =>
  (WIDEST_MM[14] ?? 0) * reachSizeOf(instrument);

/** Places beyond the last fret of any neck, so that a finger's natural place can always be asked for. */
const FRETS_LISTED = 48;

/** Distance of every fret from the nut, mm, by fret. */
export const fretPlacesMm = onceAnInstrument((instrument): readonly number[] =>
  Array.from({ length: FRETS_LISTED }, (_, fret) => fretPositionMm(instrument, fret)),
);

/** Distance along the neck between two frets of an instrument, mm. */
export const fretDistanceMm = (instrument: Instrument, from: number, to: number): number => {
  const places = fretPlacesMm(instrument);
  return Math.abs((places[to] ?? 0) - (places[from] ?? 0));
};

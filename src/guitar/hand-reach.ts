import { fretPositionMm, type Instrument } from "./instrument.js";

/**
 * Widest distance along the neck between two fingers, in mm at a scale length of 650 mm, for a hand of
 * factor 1. 1-2, 2-3, 3-4, 1-3 and 2-4: the widest found in 3,228 fingered shapes of the open collection
 * chords-db and in printed public-domain scores, with a tenth of slack, since a four-fret diagram cannot
 * show more. 1-4: five frets at the nut, the widest extension methods ask for (Nelson, "Basics of Guitar
 * Composition": four frets, up to six higher up the neck).
 */
const WIDEST_MM: Readonly<Record<string, number>> = {
  "12": 80,
  "23": 75,
  "34": 73,
  "13": 108,
  "24": 108,
  "14": 127,
};

/** Distances at which a pair of fingers begins to stretch: the 90-95 % quantiles of the same collection. */
const RELAXED_MM: Readonly<Record<string, number>> = {
  "12": 45,
  "23": 35,
  "34": 35,
  "13": 67,
  "24": 67,
  "14": 92,
};

const pair = (table: Readonly<Record<string, number>>, lower: number, higher: number): number =>
  table[`${lower}${higher}`] ?? 0;

/** Whether a pair of fingers reaches over a distance along the neck. `lower` is the lower finger number. */
export const isInReach = (lower: number, higher: number, distanceMm: number): boolean =>
  distanceMm <= pair(WIDEST_MM, lower, higher);

/** By how many mm a pair of fingers is stretched beyond its relaxed span; 0 within it. */
export const stretchMm = (lower: number, higher: number, distanceMm: number): number =>
  Math.max(0, distanceMm - pair(RELAXED_MM, lower, higher));

/** The widest a whole hand reaches along the neck, mm. */
export const WIDEST_HAND_MM = pair(WIDEST_MM, 1, 4);

/** Distance along the neck between two frets of an instrument, mm. */
export const fretDistanceMm = (instrument: Instrument, from: number, to: number): number =>
  Math.abs(fretPositionMm(instrument, to) - fretPositionMm(instrument, from));

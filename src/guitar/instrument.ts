/** A fretted instrument as a hand meets it. String 1 is the highest; lengths in millimetres. */
export interface Instrument {
  /** Sounding MIDI number of each open string without capo, string 1 first. */
  readonly openStrings: readonly number[];
  /** Highest fret a grip may use, counted from the nut (or the capo, where there is one). */
  readonly frets: number;
  /** Vibrating length of an open string without capo. */
  readonly scaleLengthMm: number;
  /** Fret the capo sits at; 0 for none. Frets in grips and TAB count from it. */
  readonly capo: number;
  /** "real": frets as on a guitar. "equal": every fret as wide as the first, for tests of the search. */
  readonly fretSpacing: "real" | "equal";
  /** Whether grips may use open strings; without them every grip can be moved along the neck. */
  readonly hasOpenStrings: boolean;
  /** Fret, counted from the nut, at which the body begins to be in the hand's way. */
  readonly bodyFret: number;
  /** Size of the player's hand against an average one, 0.85 to 1.15; spans scale with it. 1 where absent. */
  readonly handSize?: number;
  /** Share of its widest reach that the hand may use between two fingers, up to 1; 1 where absent. */
  readonly reach?: number;
  /** Barres the hand may lay: of any width, the index finger across up to three strings, none. All where absent. */
  readonly barres?: BarresAllowed;
}

export type BarresAllowed = "all" | "partial" | "none";

/** MIDI numbers of E4 B3 G3 D3 A2 E2, W3C tablature tutorial. */
export const STANDARD_TUNING: readonly number[] = [64, 59, 55, 50, 45, 40];

/** Highest fret found on guitars, counted from the nut. */
const HIGHEST_FRET_MADE = 24;

/** The last fret of the longest necks, counted as TAB counts: from the capo. */
export const lastFretAbove = (capo: number): number => Math.max(0, HIGHEST_FRET_MADE - capo);

export const stringCount = (instrument: Instrument): number => instrument.openStrings.length;

/** MIDI number of a string stopped at a fret (0 = open, capo counted in). String from 1. */
export function midiAt(instrument: Instrument, string: number, fret: number): number {
  const open = instrument.openStrings[string - 1];
  if (open === undefined) throw new RangeError(`no string ${string}`);
  return open + instrument.capo + fret;
}

/**
 * Distance from the nut to a fret that counts from the capo: x(n) = L (1 - 2^(-n/12)),
 * "How fret spacings are derived", ultimate-guitar-building.com; fret 12 is L/2 exactly.
 */
export function fretPositionMm(instrument: Instrument, fret: number): number {
  const fromNut = fret + instrument.capo;
  const { scaleLengthMm } = instrument;
  if (instrument.fretSpacing === "equal") return fromNut * scaleLengthMm * (1 - 2 ** (-1 / 12));
  return scaleLengthMm * (1 - 2 ** (-fromNut / 12));
}

import { type Instrument, stringCount } from "./instrument.js";

/** How many of the lowest strings are the thumb's, and with it those of a bass under the tune. Common practice. */
export const THUMB_STRINGS = 3;

/** Whether a string is one of them. */
export const isThumbString = (instrument: Instrument, string: number): boolean =>
  string > stringCount(instrument) - THUMB_STRINGS;

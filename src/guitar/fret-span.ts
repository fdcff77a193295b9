import { fretDistanceMm, widestHandMm } from "./hand-reach.js";
import type { Instrument } from "./instrument.js";

/** The lowest and the highest fret that a hand stops. */
export interface FretSpan {
  readonly lowest: number;
  readonly highest: number;
}

export const NOT_STOPPED: FretSpan = { lowest: Number.POSITIVE_INFINITY, highest: 0 };

export const widened = ({ lowest, highest }: FretSpan, fret: number): FretSpan => ({
  lowest: Math.min(lowest, fret),
  highest: Math.max(highest, fret),
});

/** Whether a whole hand spans it. */
export const isInHand = (instrument: Instrument, { lowest, highest }: FretSpan): boolean =>
  highest === 0 || fretDistanceMm(instrument, lowest, highest) <= widestHandMm(instrument);

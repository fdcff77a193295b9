import { fretDistanceMm, fretPlacesMm, widestHandMm } from "./hand-reach.js";
import type { Instrument } from "./instrument.js";
import { onceAnInstrument } from "./once-an-instrument.js";

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

/** By the lowest fret that a hand stops the highest that it spans with it. */
export const highestFretsInHand = onceAnInstrument((instrument): readonly number[] => {
  const count = fretPlacesMm(instrument).length;
  const highest: number[] = [];
  for (let lowest = 0, fret = 0; lowest < count; lowest += 1) {
    while (fret + 1 < count && isInHand(instrument, { lowest, highest: fret + 1 })) fret += 1;
    highest.push(fret);
  }
  return highest;
});

import type { Meter } from "./tune.js";

/**
 * Quarter notes in what a listener counts: a dotted quarter in 6/8, 9/8 and 12/8, else the lower
 * number. A quarter without a meter. Common practice.
 */
export const quartersPerBeat = (meter: Meter | undefined): number =>
  meter === undefined ? 1 : (isCompound(meter) ? 12 : 4) / meter.beatType;

/** Whether three of the lower number are one beat. In 3/8 each eighth is counted, as quarters are in 3/4. */
export const isCompound = ({ beats, beatType }: Meter): boolean =>
  beatType >= 8 && beats > 3 && beats % 3 === 0;

/** A beat as findings and reports say it: to a thousandth, finer than anybody counts. */
export const roundedBeat = (beat: number): number => Math.round(beat * 1000) / 1000;

import type { Chord } from "../../harmony/chord-tones.js";
import type { VoicingWeights } from "./cost-table.js";

/** How a chord comes to rest: at the end of the tune, or by standing for long. */
export interface Rest {
  readonly isEnd: boolean;
  readonly isLong: boolean;
}

/** Whether so many seconds are long for a chord. */
export const standsLong = (chord: Chord, seconds: number, { longSeconds }: VoicingWeights): boolean =>
  seconds >= (chord.isSeventhOrLarger ? longSeconds.larger : longSeconds.triad);

/**
 * Points for a lowest note other than the root where a chord comes to rest, and for a root so high that it is hardly a
 * bass; a slash bass is priced by itself.
 */
export function restOnRootCost(
  lowestMidi: number,
  chord: Chord,
  { isEnd, isLong }: Rest,
  { notOnRootAtEnd, notOnRootWhenLong, onHighRootWhenLong, rootIsBassBelowMidi }: VoicingWeights,
): number {
  const root = chord.tones.find((tone) => tone.role === "root");
  if (root === undefined || chord.bass !== undefined) return 0;
  const isOnRoot = lowestMidi % 12 === root.pitchClass;
  if (isEnd) return isOnRoot ? 0 : notOnRootAtEnd;
  if (!isLong) return 0;
  if (!isOnRoot) return notOnRootWhenLong;
  return lowestMidi < rootIsBassBelowMidi ? 0 : onHighRootWhenLong;
}

import type { Chord } from "../../harmony/chord-tones.js";
import type { VoicingWeights } from "./cost-table.js";

/**
 * Points for a lowest note other than the root, more of them where the tune ends on it, and anywhere else for a root so
 * high that it is hardly a bass; a slash bass is priced by itself.
 */
export function onRootCost(
  lowestMidi: number,
  chord: Chord,
  isEnd: boolean,
  { notOnRootAtEnd, notOnRoot, onHighRoot, rootIsBassBelowMidi }: VoicingWeights,
): number {
  const root = chord.tones.find((tone) => tone.role === "root");
  if (root === undefined || chord.bass !== undefined) return 0;
  const isOnRoot = lowestMidi % 12 === root.pitchClass;
  if (isEnd) return isOnRoot ? 0 : notOnRootAtEnd;
  if (!isOnRoot) return notOnRoot;
  return lowestMidi < rootIsBassBelowMidi ? 0 : onHighRoot;
}

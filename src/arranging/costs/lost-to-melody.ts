import type { Chord } from "../../harmony/chord-tones.js";
import type { PackedColumn } from "../grips/packed-column.js";
import { byRowAndString } from "./by-row-and-string.js";
import type { VoicingWeights } from "./cost-table.js";
import { releaseCostOf } from "./release-cost.js";

/**
 * What it costs, over a chord that is held, that the melody takes the strings of supporting notes whose tones then nothing
 * sounds, by the lowest string it takes: the same chord elsewhere may leave the melody a string of its own.
 */
export function lostToMelody(
  earlier: PackedColumn,
  later: PackedColumn,
  chord: Chord | undefined,
  weights: VoicingWeights,
): (row: number, taken: number) => number {
  // All grips of a column have one melody note.
  const top = later.top[0] ?? 0;
  const ofMelody = chord?.tones.find(({ pitchClass }) => pitchClass === top % 12)?.label;
  if (earlier.isSung) return () => 0;
  return byRowAndString(earlier.size, (row, taken) => {
    const { strings, degrees } = earlier.supportsAt(row);
    const isTaken = (index: number) => (strings[index]?.string ?? 0) <= taken;
    let points = 0;
    degrees.forEach((degree, index) => {
      if (!isTaken(index) || degree === ofMelody) return;
      const isElsewhere = degrees.some((other, at) => other === degree && !isTaken(at));
      if (!isElsewhere) points += releaseCostOf(degree, chord, weights) * weights.shareWhereMelodyTakes;
    });
    return Math.round(points);
  });
}

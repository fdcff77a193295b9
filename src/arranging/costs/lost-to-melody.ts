import type { Chord } from "../../harmony/chord-tones.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { VoicingWeights } from "./cost-table.js";
import { releaseCostOf } from "./release-cost.js";

/**
 * What it costs, over a chord that is held, that the melody takes the strings of supporting notes whose tones then nothing
 * sounds, by the lowest string it takes: the same chord elsewhere may leave the melody a string of its own. Found when
 * first asked.
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
  const known: Int32Array[] = [];
  const worked = (row: number, taken: number): number => {
    const { strings, degrees } = earlier.supportsAt(row);
    const isTaken = (index: number) => (strings[index]?.string ?? 0) <= taken;
    let points = 0;
    degrees.forEach((degree, index) => {
      if (!isTaken(index) || degree === ofMelody) return;
      const isElsewhere = degrees.some((other, at) => other === degree && !isTaken(at));
      if (!isElsewhere) points += releaseCostOf(degree, chord, weights) * weights.shareWhereMelodyTakes;
    });
    return Math.round(points);
  };
  return (row, taken) => {
    if (earlier.isSung) return 0;
    known[taken] ??= new Int32Array(earlier.size).fill(NOT_KNOWN);
    const before = known[taken][row] ?? NOT_KNOWN;
    if (before !== NOT_KNOWN) return before;
    const points = worked(row, taken);
    known[taken][row] = points;
    return points;
  };
}

const NOT_KNOWN = -1;

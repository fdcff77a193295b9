import type { Chord } from "../../harmony/chord-tones.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { Supports } from "../grips/supports.js";
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
    const supports = earlier.supportsAt(row);
    let points = 0;
    for (let index = 0; index < supports.degrees.length; index += 1) {
      const degree = supports.degrees[index] ?? "";
      if (!isTaken(supports, index, taken) || degree === ofMelody) continue;
      if (!isLeft(supports, degree, taken))
        points += releaseCostOf(degree, chord, weights) * weights.shareWhereMelodyTakes;
    }
    return Math.round(points);
  });
}

/** Whether the melody takes the string of a supporting note. */
const isTaken = ({ strings }: Supports, index: number, taken: number): boolean =>
  (strings[index]?.string ?? 0) <= taken;

/** Whether a tone is sounded on a string that the melody leaves. */
function isLeft(supports: Supports, degree: string, taken: number): boolean {
  for (let index = 0; index < supports.degrees.length; index += 1)
    if (supports.degrees[index] === degree && !isTaken(supports, index, taken)) return true;
  return false;
}

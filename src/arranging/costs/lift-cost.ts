import type { Chord } from "../../harmony/chord-tones.js";
import { fretOfUse } from "../grips/finger-use.js";
import { melodyPlaceOf, melodyStringOf, NO_MELODY } from "../grips/grip-rows.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { VoicingWeights } from "./cost-table.js";
import { releaseCostOf } from "./release-cost.js";

/**
 * What it costs to lift the finger from the melody note of before, over a chord that is held, although nothing needs
 * that finger nor its string: the chord loses a tone that nothing else sounds, as when a supporting note is let go. An
 * open string that is damped for nothing is the same.
 *
 * @param degree What the melody note is of the chord; undefined where it may not ring on.
 */
export function liftCost(
  earlier: PackedColumn,
  later: PackedColumn,
  degree: string | undefined,
  chord: Chord | undefined,
  weights: VoicingWeights,
): (from: number, to: number) => number {
  if (degree === undefined) return () => 0;
  const points = releaseCostOf(degree, chord, weights);
  const missed: (boolean | undefined)[] = new Array(earlier.size);
  /** Whether nothing but the melody sounds its tone over a grip. */
  const isMissed = (from: number): boolean => {
    const { degrees } = earlier.supportsAt(from);
    return degrees.length > 0 && !degrees.includes(degree);
  };
  return (from, to) => {
    const note = earlier.melody[from] ?? NO_MELODY;
    const string = melodyStringOf(note);
    if (string <= melodyStringOf(later.melody[to] ?? NO_MELODY)) return 0;
    const isThere = ((later.strings[to] ?? 0) & (1 << string)) !== 0;
    if (isThere) return 0;
    missed[from] ??= isMissed(from);
    if (!missed[from]) return 0;
    const { finger, fret } = melodyPlaceOf(note) ?? { finger: 0, fret: 0 };
    const use = finger === 0 ? 0 : (later.fingers[to * 4 + finger - 1] ?? 0);
    return use === 0 || fretOfUse(use) === fret ? points : 0;
  };
}

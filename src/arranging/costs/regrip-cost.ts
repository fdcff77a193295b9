import { fretOfUse } from "../grips/finger-use.js";
import { isSamePlace, NO_MELODY, STRINGS } from "../grips/grip-rows.js";
import type { PackedColumn } from "../grips/packed-column.js";

/**
 * Whether a melody note that is repeated over one chord is played elsewhere, under another finger or over
 * another grip than what sounds already: such a note repeats the grip or lets all of it ring on.
 */
export function isRegripped(earlier: PackedColumn, from: number, later: PackedColumn, to: number): boolean {
  const before = earlier.melody[from] ?? NO_MELODY;
  const after = later.melody[to] ?? NO_MELODY;
  if (before === NO_MELODY || after === NO_MELODY) return false;
  if (!isSamePlace(before, after)) return true;
  const supportsBefore = earlier.supports[from] ?? 0;
  const supportsAfter = later.supports[to] ?? 0;
  if (later.isHeld[to] === 1) return before !== after || supportsAfter < supportsBefore;
  if (supportsAfter === 0) return before !== after;
  if (supportsBefore === 0) return false;
  const isWhole = earlier.isHeld[from] === 0;
  if (isWhole && supportsBefore !== supportsAfter) return true;
  // What is left of a chord that rings is taken again with the rest of it.
  for (let string = 0; string < STRINGS; string += 1) {
    const fret = earlier.frets[from * STRINGS + string] ?? 0;
    if (fret !== 0 && fret !== later.frets[to * STRINGS + string]) return true;
  }
  for (let finger = 0; finger < 4; finger += 1) {
    const was = earlier.fingers[from * 4 + finger] ?? 0;
    const is = later.fingers[to * 4 + finger] ?? 0;
    if (was !== 0 && (isWhole ? was !== is : fretOfUse(was) !== fretOfUse(is))) return true;
  }
  return false;
}

import { melodyStringOf } from "../grips/grip-rows.js";
import type { PackedColumn } from "../grips/packed-column.js";

/**
 * Whether the melody goes down to a higher string, or up to a lower one, over a chord that rings on: a line under a hand
 * that stays crosses the strings as its pitches go.
 */
export function crossesStrings(
  earlier: PackedColumn,
  from: number,
  later: PackedColumn,
  to: number,
): boolean {
  if (later.isHeld[to] !== 1) return false;
  const before = melodyStringOf(earlier.melody[from] ?? 0);
  const after = melodyStringOf(later.melody[to] ?? 0);
  if (before === 0 || after === 0 || before === after) return false;
  const semitones = (later.top[to] ?? 0) - (earlier.top[from] ?? 0);
  return semitones !== 0 && semitones > 0 === after > before;
}

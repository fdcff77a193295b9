import type { PackedColumn } from "../grips/packed-column.js";

/** Whether two grips lie on different string sets: neither has all the strings of the other. */
export function changesStringSet(
  earlier: PackedColumn,
  from: number,
  later: PackedColumn,
  to: number,
): boolean {
  const before = earlier.strings[from] ?? 0;
  const after = later.strings[to] ?? 0;
  const isFewerFirst = (earlier.stringCount[from] ?? 0) <= (later.stringCount[to] ?? 0);
  return isFewerFirst ? (before & ~after) !== 0 : (after & ~before) !== 0;
}

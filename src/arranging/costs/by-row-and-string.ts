/**
 * Points by a row of a column and the lowest string that the melody takes, worked out when they are first asked for, which
 * for most is never.
 */
export function byRowAndString(
  rows: number,
  work: (row: number, taken: number) => number,
): (row: number, taken: number) => number {
  const known: Int32Array[] = [];
  return (row, taken) => {
    known[taken] ??= new Int32Array(rows).fill(NOT_KNOWN);
    const byRow = known[taken];
    const before = byRow[row] ?? NOT_KNOWN;
    if (before !== NOT_KNOWN) return before;
    const points = work(row, taken);
    byRow[row] = points;
    return points;
  };
}

const NOT_KNOWN = -1;

import type { PathProblem, Way } from "./path-problem.js";

/** A cost that depends on a few columns: one entry for each combination of their choices, the last column fastest. */
interface Table {
  readonly columns: readonly number[];
  readonly entries: Float64Array;
}

/**
 * The cheapest way among some choices of each column, loops and all: columns are taken out one after
 * another, and what is left remembers the cheapest choice of each for every combination of the columns
 * it was linked with. Taken out first is the column that leaves the smallest table, so a repeated strain
 * costs a table over two columns and not more.
 */
export function cheapestByElimination(
  problem: PathProblem,
  kept: readonly (readonly number[])[],
): Way | undefined {
  const sizeOf = (column: number) => kept[column]?.length ?? 0;
  let tables = tablesOf(problem, kept);
  const left = new Set(problem.sizes.keys());
  const decided: { column: number; scope: readonly number[]; best: Int32Array }[] = [];
  let cost = 0;
  while (left.size > 0) {
    const column = cheapestToTakeOut(left, tables, sizeOf);
    left.delete(column);
    const mine = tables.filter((table) => table.columns.includes(column));
    tables = tables.filter((table) => !table.columns.includes(column));
    const scope = scopeWithout(column, mine);
    const { entries, best } = takeOut(column, scope, mine, sizeOf);
    decided.push({ column, scope, best });
    if (scope.length > 0) tables.push({ columns: scope, entries });
    else cost += entries[0] ?? 0;
  }
  if (!Number.isFinite(cost)) return undefined;
  const places: number[] = problem.sizes.map(() => 0);
  for (const { column, scope, best } of decided.reverse()) {
    const entry = scope.reduce((index, other) => index * sizeOf(other) + (places[other] ?? 0), 0);
    places[column] = best[entry] ?? 0;
  }
  return { choices: places.map((place, column) => kept[column]?.[place] ?? 0), cost };
}

/** Every choice's own cost, and a table for each link. */
function tablesOf(problem: PathProblem, kept: readonly (readonly number[])[]): Table[] {
  const own = kept.map((choices, column) => ({
    columns: [column],
    entries: Float64Array.from(choices, (choice) => problem.choiceCost(column, choice)),
  }));
  const pairs = problem.links.map((link) => {
    const from = kept[link.from] ?? [];
    const to = kept[link.to] ?? [];
    if (link.from === link.to) {
      return {
        columns: [link.from],
        entries: Float64Array.from(from, (choice) => problem.linkCost(link, choice, choice)),
      };
    }
    const entries = new Float64Array(from.length * to.length);
    from.forEach((one, row) => {
      to.forEach((other, place) => {
        entries[row * to.length + place] = problem.linkCost(link, one, other);
      });
    });
    return { columns: [link.from, link.to], entries };
  });
  return [...own, ...pairs];
}

const scopeWithout = (column: number, tables: readonly Table[]): readonly number[] =>
  [...new Set(tables.flatMap((table) => table.columns))]
    .filter((other) => other !== column)
    .sort((a, b) => a - b);

function cheapestToTakeOut(
  left: ReadonlySet<number>,
  tables: readonly Table[],
  sizeOf: (column: number) => number,
): number {
  let best = -1;
  let smallest = Number.POSITIVE_INFINITY;
  for (const column of left) {
    const scope = scopeWithout(
      column,
      tables.filter((table) => table.columns.includes(column)),
    );
    const size = scope.reduce((product, other) => product * sizeOf(other), 1);
    if (size < smallest) {
      best = column;
      smallest = size;
    }
  }
  return best;
}

/** The least over one column's choices of the sum of its tables, for every combination of the others'. */
function takeOut(
  column: number,
  scope: readonly number[],
  tables: readonly Table[],
  sizeOf: (column: number) => number,
): { readonly entries: Float64Array; readonly best: Int32Array } {
  const total = scope.reduce((product, other) => product * sizeOf(other), 1);
  const size = sizeOf(column);
  const entries = new Float64Array(total).fill(Number.POSITIVE_INFINITY);
  const best = new Int32Array(total);
  const strides = tables.map((table) => stridesIn(table, [...scope, column], sizeOf));
  const places = scope.map(() => 0);
  for (let entry = 0; entry < total; entry += 1) {
    const starts = strides.map((stride) =>
      places.reduce((index, place, at) => index + place * (stride[at] ?? 0), 0),
    );
    for (let choice = 0; choice < size; choice += 1) {
      let cost = 0;
      for (let t = 0; t < tables.length; t += 1) {
        cost += tables[t]?.entries[(starts[t] ?? 0) + choice * (strides[t]?.[scope.length] ?? 0)] ?? 0;
      }
      if (cost < (entries[entry] ?? 0)) {
        entries[entry] = cost;
        best[entry] = choice;
      }
    }
    stepOn(places, scope, sizeOf);
  }
  return { entries, best };
}

/** How far apart neighbouring choices of each given column lie in a table; 0 where the table does not know it. */
function stridesIn(
  table: Table,
  columns: readonly number[],
  sizeOf: (column: number) => number,
): readonly number[] {
  return columns.map((column) => {
    const at = table.columns.indexOf(column);
    if (at < 0) return 0;
    return table.columns.slice(at + 1).reduce((product, other) => product * sizeOf(other), 1);
  });
}

/** The next combination, the last column fastest. */
function stepOn(places: number[], scope: readonly number[], sizeOf: (column: number) => number): void {
  for (let at = places.length - 1; at >= 0; at -= 1) {
    const next = (places[at] ?? 0) + 1;
    if (next < sizeOf(scope[at] ?? 0)) {
      places[at] = next;
      return;
    }
    places[at] = 0;
  }
}

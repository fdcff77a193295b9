import type { PathProblem, Way } from "./path-problem.js";

/** A cost that depends on a few columns: one entry for each combination of their choices, the last column fastest. */
interface Table {
  readonly columns: readonly number[];
  readonly entries: Float64Array;
}

/** A column taken out: what it cost in all combinations of the columns it was then linked with. */
interface Bucket {
  readonly column: number;
  /** The columns it was linked with, in ascending order. */
  readonly scope: readonly number[];
  /** Every table that knew the column, those that earlier buckets left behind included. */
  readonly tables: readonly Table[];
  /** What it leaves behind: the least over its choices, by combination of the scope. */
  readonly left: Table;
  /** The choice that gives that least. */
  readonly best: Int32Array;
}

/** Some choices of each column, by their number in the problem. */
export type KeptChoices = readonly (readonly number[])[];

/**
 * The cheapest way among some choices of each column, loops and all: columns are taken out one after
 * another, and what is left remembers the cheapest choice of each for every combination of the columns
 * it was linked with. Taken out first is the column that leaves the smallest table, so a repeated strain
 * costs a table over two columns and not more. undefined where no way exists.
 */
export function cheapestByElimination(problem: PathProblem, kept: KeptChoices): Way | undefined {
  const sizes = kept.map((choices) => choices.length);
  const buckets = takeOutAll(problem, kept, sizes);
  const cost = buckets.reduce(
    (sum, { scope, left }) => sum + (scope.length === 0 ? (left.entries[0] ?? 0) : 0),
    0,
  );
  if (!Number.isFinite(cost)) return undefined;
  const places = sizes.map(() => 0);
  for (const { column, scope, best } of buckets.toReversed()) {
    places[column] = best[indexOf(scope, places, sizes)] ?? 0;
  }
  return { choices: places.map((place, column) => kept[column]?.[place] ?? 0), cost };
}

/**
 * For each kept choice the cost of the cheapest way that makes it, among the kept ones: what was left
 * behind on the way out is handed back in the opposite order.
 */
export function costThroughKept(problem: PathProblem, kept: KeptChoices): readonly Float64Array[] {
  const sizes = kept.map((choices) => choices.length);
  const buckets = takeOutAll(problem, kept, sizes);
  const roots = buckets.filter(({ scope }) => scope.length === 0);
  const total = roots.reduce((sum, { left }) => sum + (left.entries[0] ?? 0), 0);
  const through = sizes.map((size) => new Float64Array(size).fill(Number.POSITIVE_INFINITY));
  // What the rest of the problem costs beside a bucket, by combination of its scope.
  const beside = new Map<Bucket, Table>();
  for (const bucket of buckets.toReversed()) {
    const isRoot = bucket.scope.length === 0;
    const rest: Table = isRoot
      ? { columns: [], entries: Float64Array.of(total - (bucket.left.entries[0] ?? 0)) }
      : (beside.get(bucket) ?? { columns: [], entries: new Float64Array(1) });
    const children = buckets.filter((other) => bucket.tables.includes(other.left));
    const mine = through[bucket.column] ?? new Float64Array();
    forEachCombination([...bucket.scope, bucket.column], sizes, [...bucket.tables, rest], (places, cost) => {
      const place = places[bucket.column] ?? 0;
      if (cost < (mine[place] ?? 0)) mine[place] = cost;
    });
    for (const child of children) {
      const entries = new Float64Array(child.left.entries.length).fill(Number.POSITIVE_INFINITY);
      const others = [...bucket.tables.filter((table) => table !== child.left), rest];
      forEachCombination([...bucket.scope, bucket.column], sizes, others, (places, cost) => {
        const entry = indexOf(child.scope, places, sizes);
        if (cost < (entries[entry] ?? 0)) entries[entry] = cost;
      });
      beside.set(child, { columns: child.scope, entries });
    }
  }
  return through;
}

function takeOutAll(problem: PathProblem, kept: KeptChoices, sizes: readonly number[]): readonly Bucket[] {
  let tables: readonly Table[] = tablesOf(problem, kept);
  const waiting = new Set(problem.sizes.keys());
  const buckets: Bucket[] = [];
  while (waiting.size > 0) {
    const column = cheapestToTakeOut(waiting, tables, sizes);
    waiting.delete(column);
    const bucket = takeOut(
      column,
      tables.filter((table) => table.columns.includes(column)),
      sizes,
    );
    tables = tables.filter((table) => !table.columns.includes(column));
    if (bucket.scope.length > 0) tables = [...tables, bucket.left];
    buckets.push(bucket);
  }
  return buckets;
}

/** Every choice's own cost, and a table for each link. */
function tablesOf(problem: PathProblem, kept: KeptChoices): Table[] {
  const own = kept.map((choices, column) => ({
    columns: [column],
    entries: Float64Array.from(choices, (choice) => problem.choiceCost(column, choice)),
  }));
  const pairs = problem.links.map((link) => {
    const from = kept[link.from] ?? [];
    const to = kept[link.to] ?? [];
    if (link.from === link.to) {
      const entries = Float64Array.from(from, (choice) => problem.linkCost(link, choice, choice));
      return { columns: [link.from], entries };
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
  waiting: ReadonlySet<number>,
  tables: readonly Table[],
  sizes: readonly number[],
): number {
  const known = new Map<number, Table[]>();
  for (const table of tables) {
    for (const column of table.columns) known.set(column, [...(known.get(column) ?? []), table]);
  }
  let best = -1;
  let smallest = Number.POSITIVE_INFINITY;
  for (const column of waiting) {
    const scope = scopeWithout(column, known.get(column) ?? []);
    const size = scope.reduce((product, other) => product * (sizes[other] ?? 0), 1);
    if (best < 0 || size < smallest) {
      best = column;
      smallest = size;
    }
  }
  return best;
}

/** The least over one column's choices of the sum of its tables, for every combination of the others'. */
function takeOut(column: number, tables: readonly Table[], sizes: readonly number[]): Bucket {
  const scope = scopeWithout(column, tables);
  const total = scope.reduce((product, other) => product * (sizes[other] ?? 0), 1);
  const entries = new Float64Array(total).fill(Number.POSITIVE_INFINITY);
  const best = new Int32Array(total);
  const size = sizes[column] ?? 0;
  let combination = 0;
  forEachCombination([...scope, column], sizes, tables, (_, cost) => {
    const entry = Math.floor(combination / size);
    if (cost < (entries[entry] ?? 0)) {
      entries[entry] = cost;
      best[entry] = combination % size;
    }
    combination += 1;
  });
  return { column, scope, tables, left: { columns: scope, entries }, best };
}

/**
 * Visits every combination of some columns' choices, the last column fastest, with the sum of the tables
 * there. `places` is by column number and is used again for the next visit.
 */
function forEachCombination(
  columns: readonly number[],
  sizes: readonly number[],
  tables: readonly Table[],
  visit: (places: Int32Array, cost: number) => void,
): void {
  const count = columns.reduce((product, column) => product * (sizes[column] ?? 0), 1);
  const places = new Int32Array(sizes.length);
  const strides = tables.map((table) => columns.map((column) => strideOf(table, column, sizes)));
  const at = tables.map(() => 0);
  for (let combination = 0; combination < count; combination += 1) {
    let cost = 0;
    for (let t = 0; t < tables.length; t += 1) cost += tables[t]?.entries[at[t] ?? 0] ?? 0;
    visit(places, cost);
    for (let digit = columns.length - 1; digit >= 0; digit -= 1) {
      const column = columns[digit] ?? 0;
      const place = (places[column] ?? 0) + 1;
      const isCarried = place === sizes[column];
      places[column] = isCarried ? 0 : place;
      for (let t = 0; t < tables.length; t += 1) {
        const stride = strides[t]?.[digit] ?? 0;
        at[t] = (at[t] ?? 0) + (isCarried ? -stride * (place - 1) : stride);
      }
      if (!isCarried) break;
    }
  }
}

/** How far apart neighbouring choices of a column lie in a table; 0 where the table does not know it. */
function strideOf(table: Table, column: number, sizes: readonly number[]): number {
  const at = table.columns.indexOf(column);
  if (at < 0) return 0;
  return table.columns.slice(at + 1).reduce((product, other) => product * (sizes[other] ?? 0), 1);
}

/** Where a combination stands in a table over `scope`. */
const indexOf = (scope: readonly number[], places: ArrayLike<number>, sizes: readonly number[]): number =>
  scope.reduce((index, column) => index * (sizes[column] ?? 0) + (places[column] ?? 0), 0);

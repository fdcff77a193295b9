import type { Link, PathProblem, Way } from "./choice-graph.js";
import { LeastFirst } from "./least-first.js";

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
  const leftBy = new Map(buckets.map((bucket) => [bucket.left, bucket]));
  // What the rest of the problem costs beside a bucket, by combination of its scope.
  const beside = new Map<Bucket, Table>();
  for (const bucket of buckets.toReversed()) {
    const isRoot = bucket.scope.length === 0;
    const rest: Table = isRoot
      ? { columns: [], entries: Float64Array.of(total - (bucket.left.entries[0] ?? 0)) }
      : (beside.get(bucket) ?? { columns: [], entries: new Float64Array(1) });
    const mine = through[bucket.column] ?? new Float64Array();
    const children = bucket.tables
      .flatMap((table) => leftBy.get(table) ?? [])
      .map((child) => ({
        left: child.left.entries,
        beside: new Float64Array(child.left.entries.length).fill(Number.POSITIVE_INFINITY),
        scope: child.scope,
        stride: strideOf(child.left, bucket.column, sizes),
        child,
      }));
    const pair = pairOf(bucket.scope, bucket.column, bucket.tables, sizes);
    if (pair !== undefined) {
      const { first, second, own } = throughPair(pair, rest.entries);
      mine.set(own);
      for (const { left, beside: entries, scope } of children) {
        const [other] = scope.filter((one) => one !== bucket.column);
        const sums = other === undefined ? own : other === bucket.scope[0] ? first : second;
        withoutOwn(sums, left, entries, pair.size, other === undefined || other < bucket.column);
      }
      for (const { child, beside: entries } of children) {
        beside.set(child, { columns: child.scope, entries });
      }
      continue;
    }
    forEachRow(bucket.scope, bucket.column, sizes, [...bucket.tables, rest], (places, row) => {
      for (let place = 0; place < row.length; place += 1) {
        mine[place] = Math.min(mine[place] ?? 0, row[place] ?? 0);
      }
      for (const { left, beside: entries, scope, stride } of children) {
        let entry = indexOf(scope, places, sizes);
        for (let place = 0; place < row.length; place += 1, entry += stride) {
          const without = (row[place] ?? 0) - (left[entry] ?? 0);
          // Infinity less Infinity is no number and no less than anything: what is impossible stays so.
          if (without < (entries[entry] ?? 0)) entries[entry] = without;
        }
      }
    });
    for (const { child, beside: entries } of children) {
      beside.set(child, { columns: child.scope, entries });
    }
  }
  return through;
}

function takeOutAll(problem: PathProblem, kept: KeptChoices, sizes: readonly number[]): readonly Bucket[] {
  const tablesOn = problem.sizes.map(() => new Set<Table>());
  const add = (table: Table) => {
    for (const column of table.columns) tablesOn[column]?.add(table);
  };
  for (const table of tablesOf(problem, kept)) add(table);
  // What each waiting column would leave behind; only its neighbours' change when one is taken out.
  const waiting = new LeastFirst(problem.sizes.length);
  const measure = (column: number) => {
    const scope = scopeWithout(column, tablesOn[column] ?? []);
    waiting.put(
      column,
      scope.reduce((product, other) => product * (sizes[other] ?? 0), 1),
    );
  };
  for (const column of problem.sizes.keys()) measure(column);
  const buckets: Bucket[] = [];
  for (let column = waiting.take(); column !== undefined; column = waiting.take()) {
    const tables = [...(tablesOn[column] ?? [])];
    const bucket = takeOut(column, tables, sizes);
    for (const table of tables) for (const other of table.columns) tablesOn[other]?.delete(table);
    if (bucket.scope.length > 0) add(bucket.left);
    for (const other of bucket.scope) measure(other);
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
    const stepCost = problem.stepCost(link);
    const from = kept[link.from] ?? [];
    const to = kept[link.to] ?? [];
    if (link.from === link.to) {
      const entries = Float64Array.from(from, (choice) => stepCost(choice, choice));
      return { columns: [link.from], entries };
    }
    return { columns: [link.from, link.to], entries: stepsBetween(problem, link, from, to) };
  });
  return [...own, ...pairs];
}

/** What each step from a kept choice to a kept choice costs, the second one fastest; what rings on asks only what it may come after. */
function stepsBetween(
  problem: PathProblem,
  link: Link,
  from: readonly number[],
  to: readonly number[],
): Float64Array {
  const known = problem.knownOf?.(link);
  const step = known?.cost ?? problem.stepCost(link);
  const entries = new Float64Array(from.length * to.length).fill(Number.POSITIVE_INFINITY);
  to.forEach((other, place) => {
    const sources = known?.sourcesOf(other);
    from.forEach((one, row) => {
      if (sources?.includes(one) !== false) entries[row * to.length + place] = step(one, other);
    });
  });
  return entries;
}

/** The other columns of some tables, in ascending order. */
function scopeWithout(column: number, tables: Iterable<Table>): readonly number[] {
  const scope: number[] = [];
  for (const { columns } of tables)
    for (const other of columns) if (other !== column && !scope.includes(other)) putInOrder(scope, other);
  return scope;
}

/** Puts a number among others that ascend. They are hardly ever more than two, for which the engine's sort is slow. */
function putInOrder(numbers: number[], one: number): void {
  let at = numbers.length;
  for (; at > 0 && (numbers[at - 1] ?? 0) > one; at -= 1) numbers[at] = numbers[at - 1] ?? 0;
  numbers[at] = one;
}

/** The least over one column's choices of the sum of its tables, for every combination of the others'. */
function takeOut(column: number, tables: readonly Table[], sizes: readonly number[]): Bucket {
  const scope = scopeWithout(column, tables);
  const pair = pairOf(scope, column, tables, sizes);
  if (pair !== undefined) return { column, scope, tables, ...leastOfPair(pair, scope) };
  const total = scope.reduce((product, other) => product * (sizes[other] ?? 0), 1);
  const entries = new Float64Array(total).fill(Number.POSITIVE_INFINITY);
  const best = new Int32Array(total);
  let combination = 0;
  forEachRow(scope, column, sizes, tables, (_, row) => {
    let least = Number.POSITIVE_INFINITY;
    for (let place = 0; place < row.length; place += 1) {
      const cost = row[place] ?? 0;
      if (cost >= least) continue;
      least = cost;
      best[combination] = place;
    }
    entries[combination] = least;
    combination += 1;
  });
  return { column, scope, tables, left: { columns: scope, entries }, best };
}

/**
 * A column between two others, the case of every plain repeat: what it costs with each choice of the one and
 * of the other, its own choice the last index of both.
 */
interface Pair {
  readonly size: number;
  readonly first: Float64Array;
  readonly second: Float64Array;
}

/** undefined where a column hangs on more or fewer than two others, or on two at once. */
function pairOf(
  scope: readonly number[],
  column: number,
  tables: readonly Table[],
  sizes: readonly number[],
): Pair | undefined {
  const [one, other, more] = scope;
  if (one === undefined || other === undefined || more !== undefined) return undefined;
  if (tables.some((table) => table.columns.length > 2)) return undefined;
  const size = sizes[column] ?? 0;
  const sumOver = (beside: number, some: readonly Table[]): Float64Array => {
    const sum = new Float64Array((sizes[beside] ?? 0) * size);
    for (const table of some) {
      const rowStride = strideOf(table, beside, sizes);
      const stride = strideOf(table, column, sizes);
      for (let row = 0, at = 0; at < sum.length; row += 1) {
        for (let place = 0, entry = row * rowStride; place < size; place += 1, at += 1, entry += stride) {
          sum[at] = (sum[at] ?? 0) + (table.entries[entry] ?? 0);
        }
      }
    }
    return sum;
  };
  return {
    size,
    first: sumOver(
      one,
      tables.filter((table) => !table.columns.includes(other)),
    ),
    second: sumOver(
      other,
      tables.filter((table) => table.columns.includes(other)),
    ),
  };
}

/** The least over a column's own choices for each choice of the two beside it; of equal ones the first. */
function leastOfPair({ size, first, second }: Pair, scope: readonly number[]): Pick<Bucket, "left" | "best"> {
  const rows = first.length / size;
  const width = second.length / size;
  const entries = new Float64Array(rows * width).fill(Number.POSITIVE_INFINITY);
  const best = new Int32Array(rows * width);
  const turned = transposed(second, size);
  for (let row = 0; row < rows; row += 1) {
    for (let place = 0; place < size; place += 1) {
      const here = first[row * size + place] ?? 0;
      if (here === Number.POSITIVE_INFINITY) continue;
      for (let at = row * width, there = place * width; at < (row + 1) * width; at += 1, there += 1) {
        const cost = here + (turned[there] ?? 0);
        if (cost >= (entries[at] ?? 0)) continue;
        entries[at] = cost;
        best[at] = place;
      }
    }
  }
  return { left: { columns: scope, entries }, best };
}

/**
 * What everything costs through each choice of a column with each of the one beside it, of the other, and by
 * itself, given what the rest of the problem costs with each two choices of those beside it.
 */
function throughPair(
  { size, first, second }: Pair,
  rest: Float64Array,
): { readonly first: Float64Array; readonly second: Float64Array; readonly own: Float64Array } {
  const rows = first.length / size;
  const width = second.length / size;
  const firstSums = new Float64Array(first.length).fill(Number.POSITIVE_INFINITY);
  const secondSums = new Float64Array(second.length).fill(Number.POSITIVE_INFINITY);
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < width; column += 1) {
      const beside = rest[row * width + column] ?? 0;
      if (beside === Number.POSITIVE_INFINITY) continue;
      for (
        let place = 0, one = row * size, other = column * size;
        place < size;
        place += 1, one += 1, other += 1
      ) {
        const cost = beside + (first[one] ?? 0) + (second[other] ?? 0);
        if (cost < (firstSums[one] ?? 0)) firstSums[one] = cost;
        if (cost < (secondSums[other] ?? 0)) secondSums[other] = cost;
      }
    }
  }
  const own = new Float64Array(size).fill(Number.POSITIVE_INFINITY);
  firstSums.forEach((cost, at) => {
    if (cost < (own[at % size] ?? 0)) own[at % size] = cost;
  });
  return { first: firstSums, second: secondSums, own };
}

/** Takes a table's own part out of the sums through it; what is impossible stays so. */
function withoutOwn(
  sums: Float64Array,
  left: Float64Array,
  entries: Float64Array,
  size: number,
  isColumnLast: boolean,
): void {
  const rows = sums.length / size;
  for (let row = 0; row < rows; row += 1) {
    for (let place = 0; place < size; place += 1) {
      const entry = isColumnLast ? row * size + place : place * rows + row;
      const without = (sums[row * size + place] ?? 0) - (left[entry] ?? 0);
      if (without < (entries[entry] ?? 0)) entries[entry] = without;
    }
  }
}

function transposed(matrix: Float64Array, width: number): Float64Array {
  const rows = matrix.length / width;
  const turned = new Float64Array(matrix.length);
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < width; column += 1) {
      turned[column * rows + row] = matrix[row * width + column] ?? 0;
    }
  }
  return turned;
}

/**
 * Visits every combination of some columns' choices, the last column fastest, with the sum of the tables
 * for each choice of one more column. `places` is by column number, 0 for that column; it and `row` are
 * used again for the next visit.
 */
function forEachRow(
  scope: readonly number[],
  column: number,
  sizes: readonly number[],
  tables: readonly Table[],
  visit: (places: Int32Array, row: Float64Array) => void,
): void {
  const count = scope.reduce((product, other) => product * (sizes[other] ?? 0), 1);
  const places = new Int32Array(sizes.length);
  const row = new Float64Array(sizes[column] ?? 0);
  const walks = tables.map((table) => ({
    entries: table.entries,
    stride: strideOf(table, column, sizes),
    strides: scope.map((other) => strideOf(table, other, sizes)),
    at: 0,
  }));
  for (let combination = 0; combination < count; combination += 1) {
    row.fill(0);
    for (const { entries, stride, at } of walks) addRow(row, entries, at, stride);
    visit(places, row);
    for (let digit = scope.length - 1; digit >= 0; digit -= 1) {
      const other = scope[digit] ?? 0;
      const place = (places[other] ?? 0) + 1;
      const isCarried = place === sizes[other];
      places[other] = isCarried ? 0 : place;
      for (const walk of walks) {
        const stride = walk.strides[digit] ?? 0;
        walk.at += isCarried ? -stride * (place - 1) : stride;
      }
      if (!isCarried) break;
    }
  }
}

/** Adds every `stride`-th of a table's entries to a row: the innermost loop of the search. */
function addRow(row: Float64Array, entries: Float64Array, start: number, stride: number): void {
  for (let place = 0, at = start; place < row.length; place += 1, at += stride) {
    row[place] = (row[place] ?? 0) + (entries[at] ?? 0);
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

import type { Link, PathProblem, Way } from "./path-problem.js";

/**
 * The links of a problem without loops: every column hangs on the one it is first reached from. Steps to
 * the next column are taken before jumps, so without repeats this is the whole problem, a chain.
 */
export interface LinkTree {
  /** Columns, each after the one it hangs on. */
  readonly order: readonly number[];
  /** By column: the column it hangs on and the link between, in playing order; undefined for a first one. */
  readonly hangs: readonly (Hanging | undefined)[];
  /** Links that would close a loop. */
  readonly loops: readonly Link[];
}

interface Hanging {
  readonly on: number;
  readonly link: Link;
}

/** Picks the tree: chain links first, then jumps in the order given. */
export function linkTree(problem: PathProblem): LinkTree {
  const group = problem.sizes.map((_, column) => column);
  const groupOf = (column: number): number =>
    group[column] === column ? column : groupOf(group[column] ?? column);
  const kept: Link[] = [];
  const loops: Link[] = [];
  const isStep = (link: Link) => link.to === link.from + 1;
  for (const link of [...problem.links.filter(isStep), ...problem.links.filter((other) => !isStep(other))]) {
    const [one, other] = [groupOf(link.from), groupOf(link.to)];
    if (one === other) loops.push(link);
    else {
      group[other] = one;
      kept.push(link);
    }
  }
  const hangs: (Hanging | undefined)[] = problem.sizes.map(() => undefined);
  const order: number[] = [];
  const isReached = new Set<number>();
  const linksAt: Link[][] = problem.sizes.map(() => []);
  for (const link of kept) {
    linksAt[link.from]?.push(link);
    linksAt[link.to]?.push(link);
  }
  for (const start of problem.sizes.keys()) {
    if (isReached.has(start)) continue;
    isReached.add(start);
    order.push(start);
    for (let next = order.length - 1; next < order.length; next += 1) {
      const on = order[next] ?? 0;
      for (const link of linksAt[on] ?? []) {
        const column = link.from === on ? link.to : link.from;
        if (isReached.has(column)) continue;
        isReached.add(column);
        hangs[column] = { on, link };
        order.push(column);
      }
    }
  }
  return { order, hangs, loops };
}

/** Costs along a tree, worked out once from its ends. */
export interface TreeCosts {
  /** Columns that hang on each column. */
  readonly hanging: readonly (readonly number[])[];
  /** What each choice costs by itself. */
  readonly own: readonly Float64Array[];
  /** What each column, with all that hangs on it, adds to every choice of the one it hangs on. */
  readonly added: readonly Float64Array[];
  /** Cheapest cost of everything that hangs on each choice, its own cost included. */
  readonly below: readonly Float64Array[];
}

export function treeCosts(problem: PathProblem, tree: LinkTree): TreeCosts {
  const hanging: number[][] = problem.sizes.map(() => []);
  for (const column of tree.order) {
    const hang = tree.hangs[column];
    if (hang !== undefined) hanging[hang.on]?.push(column);
  }
  const own = problem.sizes.map((size, column) =>
    Float64Array.from({ length: size }, (_, choice) => problem.choiceCost(column, choice)),
  );
  const added: Float64Array[] = problem.sizes.map(() => new Float64Array());
  const below: Float64Array[] = problem.sizes.map(() => new Float64Array());
  for (const column of tree.order.toReversed()) {
    const table = sum(
      own[column],
      (hanging[column] ?? []).map((child) => added[child]),
    );
    below[column] = table;
    const hang = tree.hangs[column];
    if (hang !== undefined) {
      added[column] = cheapestOver(table, problem.sizes[hang.on] ?? 0, (choice, onChoice) =>
        costBetween(problem, hang, onChoice, choice),
      );
    }
  }
  return { hanging, own, added, below };
}

/**
 * For every choice the cheapest cost of the whole tree through it, from a second pass outwards: a lower
 * bound where there are loops.
 */
export function costsThrough(
  problem: PathProblem,
  tree: LinkTree,
  { hanging, own, added, below }: TreeCosts,
): readonly Float64Array[] {
  const roots = tree.order.filter((column) => tree.hangs[column] === undefined);
  const least = roots.map((root) => Math.min(...(below[root] ?? [])));
  const through: Float64Array[] = problem.sizes.map(() => new Float64Array());
  // What the tree costs beside what hangs on a choice.
  const beside: Float64Array[] = problem.sizes.map(() => new Float64Array());
  for (const column of tree.order) {
    const hang = tree.hangs[column];
    if (hang === undefined) {
      const others = least.reduce((total, cost, index) => total + (roots[index] === column ? 0 : cost), 0);
      beside[column] = new Float64Array(problem.sizes[column] ?? 0).fill(others);
    } else {
      const siblings = (hanging[hang.on] ?? [])
        .filter((child) => child !== column)
        .map((child) => added[child]);
      const rest = sum(own[hang.on], [beside[hang.on], ...siblings]);
      beside[column] = cheapestOver(rest, problem.sizes[column] ?? 0, (onChoice, choice) =>
        costBetween(problem, hang, onChoice, choice),
      );
    }
    through[column] = sum(below[column], [beside[column]]);
  }
  return through;
}

/** The cheapest way of a problem whose links are all in the tree; of equal choices the one listed first. */
export function cheapestTreeWay(
  problem: PathProblem,
  tree: LinkTree,
  below: readonly Float64Array[],
): Way | undefined {
  const choices: number[] = problem.sizes.map(() => 0);
  let cost = 0;
  for (const column of tree.order) {
    const hang = tree.hangs[column];
    const table = below[column] ?? new Float64Array();
    const total = (choice: number) =>
      (table[choice] ?? 0) +
      (hang === undefined ? 0 : costBetween(problem, hang, choices[hang.on] ?? 0, choice));
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    for (const choice of table.keys()) {
      if ((table[choice] ?? 0) >= least) continue;
      const here = total(choice);
      if (here < least) {
        best = choice;
        least = here;
      }
    }
    if (least === Number.POSITIVE_INFINITY) return undefined;
    choices[column] = best;
    if (hang === undefined) cost += least;
  }
  return { choices, cost };
}

const costBetween = (problem: PathProblem, hang: Hanging, onChoice: number, choice: number): number =>
  hang.link.from === hang.on
    ? problem.linkCost(hang.link, onChoice, choice)
    : problem.linkCost(hang.link, choice, onChoice);

/** Adds tables entry by entry. */
function sum(first: Float64Array | undefined, others: readonly (Float64Array | undefined)[]): Float64Array {
  const total = Float64Array.from(first ?? []);
  for (const other of others)
    total.forEach((entry, index) => {
      total[index] = entry + (other?.[index] ?? 0);
    });
  return total;
}

/**
 * For each of `size` goals the least of a table's entries plus the step from entry to goal. Entries are
 * tried cheapest first and the rest is left once none can win, which is sound since steps cost nothing or
 * more.
 */
function cheapestOver(
  table: Float64Array,
  size: number,
  step: (entry: number, goal: number) => number,
): Float64Array {
  const order = [...table.keys()].sort((a, b) => (table[a] ?? 0) - (table[b] ?? 0) || a - b);
  return Float64Array.from({ length: size }, (_, goal) => {
    let best = Number.POSITIVE_INFINITY;
    for (const entry of order) {
      const so = table[entry] ?? 0;
      if (so >= best) break;
      const cost = so + step(entry, goal);
      if (cost < best) best = cost;
    }
    return best;
  });
}

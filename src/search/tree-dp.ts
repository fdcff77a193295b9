import { cheapestOver } from "./cheapest-step.js";
import { type Link, linksByColumn, type PathProblem, type StepCost, type Way } from "./choice-graph.js";

/** The columns of a problem, each hung on another one by a link. */
export interface LinkTree {
  /** Columns, each after the one it hangs on. */
  readonly order: readonly number[];
  /** By column: the column it hangs on and the link between, in playing order; undefined for a root. */
  readonly hangs: readonly (Hanging | undefined)[];
}

export interface Hanging {
  readonly on: number;
  readonly link: Link;
}

/**
 * A tree over all columns, each hung on the one it is first reached from, and the links that would close a
 * loop. Steps to the next column are taken before jumps, jumps in the order given.
 */
export function spanningTree(problem: PathProblem): {
  readonly tree: LinkTree;
  readonly loops: readonly Link[];
} {
  const group = problem.sizes.map((_, column) => column);
  const groupOf = (column: number): number =>
    group[column] === column ? column : groupOf(group[column] ?? column);
  const linksAt: Link[][] = problem.sizes.map(() => []);
  const loops: Link[] = [];
  const isStep = (link: Link) => link.to === link.from + 1;
  for (const link of [...problem.links.filter(isStep), ...problem.links.filter((other) => !isStep(other))]) {
    const [one, other] = [groupOf(link.from), groupOf(link.to)];
    if (one === other) loops.push(link);
    else {
      group[other] = one;
      linksAt[link.from]?.push(link);
      linksAt[link.to]?.push(link);
    }
  }
  const hangs: (Hanging | undefined)[] = problem.sizes.map(() => undefined);
  const order: number[] = [];
  const isReached = new Set<number>();
  for (const start of problem.sizes.keys()) {
    if (isReached.has(start)) continue;
    isReached.add(start);
    order.push(start);
    for (let next = order.length - 1; next < order.length; next += 1) {
      const on = order[next] ?? 0;
      for (const link of linksAt[on] ?? []) {
        const column = otherEnd(link, on);
        if (isReached.has(column)) continue;
        isReached.add(column);
        hangs[column] = { on, link };
        order.push(column);
      }
    }
  }
  return { tree: { order, hangs }, loops };
}

/**
 * What hangs loose from the loops of a problem: columns with one link left are taken off, the last first,
 * until every column that is left lies in a loop or between two. Those are the roots of the tree; without
 * a repeat only the first column is one.
 */
export function looseEnds(problem: PathProblem): LinkTree {
  const linksAt = linksByColumn(problem).map((links) => new Set(links));
  const hangs: (Hanging | undefined)[] = problem.sizes.map(() => undefined);
  const takenOff: number[] = [];
  const isLoose = (column: number) => {
    const [link, another] = linksAt[column] ?? [];
    return link !== undefined && another === undefined && link.from !== link.to;
  };
  const loose = [...problem.sizes.keys()].filter(isLoose);
  for (let column = loose.pop(); column !== undefined; column = loose.pop()) {
    const [link] = linksAt[column] ?? [];
    if (link === undefined) continue;
    const on = otherEnd(link, column);
    hangs[column] = { on, link };
    takenOff.push(column);
    linksAt[column]?.delete(link);
    linksAt[on]?.delete(link);
    if (isLoose(on)) loose.push(on);
  }
  const roots = [...problem.sizes.keys()].filter((column) => hangs[column] === undefined);
  return { order: [...roots, ...takenOff.reverse()], hangs };
}

const otherEnd = (link: Link, column: number): number => (link.from === column ? link.to : link.from);

/** Columns of a tree that hang on no other. */
export const rootsOf = (tree: LinkTree): readonly number[] =>
  tree.order.filter((column) => tree.hangs[column] === undefined);

/** What a column has before it is worked out. */
const NOTHING = new Float64Array();

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
  const own = problem.sizes.map((size, column) => {
    const costs = new Float64Array(size);
    for (let choice = 0; choice < size; choice += 1) costs[choice] = problem.choiceCost(column, choice);
    return costs;
  });
  const added: Float64Array[] = problem.sizes.map(() => NOTHING);
  const below: Float64Array[] = problem.sizes.map(() => NOTHING);
  for (const column of tree.order.toReversed()) {
    const table = sum(
      own[column],
      (hanging[column] ?? []).map((child) => added[child]),
    );
    below[column] = table;
    const hang = tree.hangs[column];
    if (hang !== undefined) {
      // What cannot be chosen need not be reached.
      const goals = own[hang.on];
      const enough = goals?.includes(Number.POSITIVE_INFINITY)
        ? (goal: number) =>
            goals[goal] === Number.POSITIVE_INFINITY ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY
        : undefined;
      added[column] = cheapestOver(problem, hang.link, table, hang.link.from === column, enough);
    }
  }
  return { hanging, own, added, below };
}

/**
 * For every choice the cheapest cost of the whole tree through it, from a second pass outwards: exact up to
 * `most`, beyond that a lower bound which is itself above it.
 *
 * @param throughRoots By column, what the whole costs through each choice of a root; asked for roots alone.
 */
export function costsThrough(
  problem: PathProblem,
  tree: LinkTree,
  { hanging, own, added, below }: TreeCosts,
  throughRoots: (column: number) => Float64Array,
  most = Number.POSITIVE_INFINITY,
): readonly Float64Array[] {
  const through: Float64Array[] = problem.sizes.map(() => NOTHING);
  // What the whole costs beside what hangs on a choice.
  const beside: Float64Array[] = problem.sizes.map(() => NOTHING);
  for (const column of tree.order) {
    const hang = tree.hangs[column];
    if (hang === undefined) {
      const whole = throughRoots(column);
      through[column] = whole;
      beside[column] = whole.map((cost, choice) =>
        Number.isFinite(cost) ? cost - (below[column]?.[choice] ?? 0) : cost,
      );
    } else {
      const siblings = (hanging[hang.on] ?? [])
        .filter((child) => child !== column)
        .map((child) => added[child]);
      const rest = sum(own[hang.on], [beside[hang.on], ...siblings]);
      const under = below[column] ?? new Float64Array();
      const enough = (choice: number) => most - (under[choice] ?? 0);
      beside[column] = cheapestOver(problem, hang.link, rest, hang.link.to === column, enough);
      through[column] = sum(under, [beside[column]]);
    }
  }
  return through;
}

/** What a problem without loops costs through each choice of a root: its own tree, and the cheapest of every other. */
export function throughRootsAlone(tree: LinkTree, { below }: TreeCosts): (column: number) => Float64Array {
  const least = new Map(rootsOf(tree).map((root) => [root, Math.min(...(below[root] ?? []))]));
  return (column) => {
    const others = [...least].reduce((total, [root, cost]) => total + (root === column ? 0 : cost), 0);
    return (below[column] ?? new Float64Array()).map((cost) => cost + others);
  };
}

/**
 * The cheapest way of a tree outwards from its roots; of equal choices the one listed first. undefined
 * where no way exists.
 *
 * @param chosen Choices already made, by column; roots without one take their cheapest.
 */
export function cheapestTreeWay(
  problem: PathProblem,
  tree: LinkTree,
  below: readonly Float64Array[],
  chosen: ReadonlyMap<number, number> = new Map(),
): Way["choices"] | undefined {
  const choices: number[] = problem.sizes.map(() => 0);
  for (const column of tree.order) {
    const hang = tree.hangs[column];
    const table = below[column] ?? new Float64Array();
    const made = chosen.get(column);
    if (made !== undefined) {
      choices[column] = made;
      continue;
    }
    const step = hang && stepTo(problem, hang, column);
    const from = hang === undefined ? 0 : (choices[hang.on] ?? 0);
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let choice = 0; choice < table.length; choice += 1) {
      const cost = table[choice] ?? 0;
      if (cost >= least) continue;
      const here = cost + (step === undefined ? 0 : step(from, choice));
      if (here < least) {
        best = choice;
        least = here;
      }
    }
    if (least === Number.POSITIVE_INFINITY) return undefined;
    choices[column] = best;
  }
  return choices;
}

/** The step over a link from a choice of its other column to one of `column`, whichever is played first. */
function stepTo(problem: PathProblem, { link }: Hanging, column: number): StepCost {
  const stepCost = problem.stepCost(link);
  return link.to === column ? stepCost : (other, choice) => stepCost(choice, other);
}

/** Adds tables entry by entry. */
function sum(first: Float64Array | undefined, others: readonly (Float64Array | undefined)[]): Float64Array {
  const total = first === undefined ? new Float64Array() : first.slice();
  for (const other of others) {
    for (let entry = 0; entry < total.length; entry += 1) {
      total[entry] = (total[entry] ?? 0) + (other?.[entry] ?? 0);
    }
  }
  return total;
}

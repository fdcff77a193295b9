import type { Link, PathProblem, Way } from "./path-problem.js";
import { plainCheapestWay } from "./plain-path.js";

/** Choices a column keeps for the first, incomplete search that only has to find some good way. */
const FIRST_BEAM = 4;

/**
 * The cheapest way, the same as `plainCheapestWay` finds, sooner. In words: without its jumps the problem
 * is a chain, and for every choice the cheapest chain through it is the sum of a forward and a backward
 * table. Jumps only add cost, so that sum is a lower bound. A search among the few best choices of each
 * column gives some whole way; every choice whose bound lies above that way's cost cannot be part of a
 * cheapest one and is dropped; the plain search does the rest.
 */
export function cheapestWay(problem: PathProblem): Way | undefined {
  if (problem.sizes.length === 0) return { choices: [], cost: 0 };
  const chain = chainLinks(problem);
  const forward = forwardTable(problem, chain);
  if (!problem.links.some((link) => !isChainLink(link))) return readBack(problem, chain, forward);
  const bounds = boundsOf(problem, chain, forward);
  if (bounds.some((column) => column.every((bound) => bound === Number.POSITIVE_INFINITY))) return undefined;
  const ranked = bounds.map((column) =>
    [...column.keys()].sort((a, b) => (column[a] ?? 0) - (column[b] ?? 0) || a - b),
  );
  const widest = Math.max(...problem.sizes);
  for (let beam = FIRST_BEAM; ; beam *= 4) {
    const few = ranked.map((column) => inOrder(column.slice(0, beam)));
    const some = plainCheapestWay(problem, few);
    if (some === undefined) {
      if (beam >= widest) return undefined;
      continue;
    }
    const left = bounds.map((column) =>
      [...column.keys()].filter((choice) => (column[choice] ?? 0) <= some.cost),
    );
    return plainCheapestWay(problem, left);
  }
}

/** For every choice of every column the cost of the cheapest chain through it; a lower bound where there are jumps. */
export function costThroughEach(problem: PathProblem): readonly (readonly number[])[] {
  const chain = chainLinks(problem);
  return boundsOf(problem, chain, forwardTable(problem, chain));
}

const isChainLink = (link: Link): boolean => link.to === link.from + 1;

/** The link from each column to the next, where it is played. */
const chainLinks = (problem: PathProblem): readonly (Link | undefined)[] =>
  problem.sizes.map((_, column) => problem.links.find((link) => isChainLink(link) && link.from === column));

/** Cheapest cost of a chain that ends in each choice, its own cost included. */
function forwardTable(problem: PathProblem, chain: readonly (Link | undefined)[]): readonly Float64Array[] {
  const tables: Float64Array[] = [];
  problem.sizes.forEach((size, column) => {
    const before = tables[column - 1];
    const link = chain[column - 1];
    const order = before === undefined ? [] : cheapestFirst(before);
    const table = new Float64Array(size);
    for (let choice = 0; choice < size; choice += 1) {
      const own = problem.choiceCost(column, choice);
      table[choice] =
        own +
        (before === undefined ? 0 : reach(before, order, (from) => costOf(problem, link, from, choice)));
    }
    tables.push(table);
  });
  return tables;
}

/** The forward table plus the cheapest rest after each choice. */
function boundsOf(
  problem: PathProblem,
  chain: readonly (Link | undefined)[],
  forward: readonly Float64Array[],
): readonly (readonly number[])[] {
  const bounds: number[][] = problem.sizes.map(() => []);
  let after: Float64Array | undefined;
  for (let column = problem.sizes.length - 1; column >= 0; column -= 1) {
    const size = problem.sizes[column] ?? 0;
    const link = chain[column];
    const next: Float64Array | undefined = after;
    const order = next === undefined ? [] : cheapestFirst(next);
    const withOwn = new Float64Array(size);
    for (let choice = 0; choice < size; choice += 1) {
      const rest = next === undefined ? 0 : reach(next, order, (to) => costOf(problem, link, choice, to));
      withOwn[choice] = rest + problem.choiceCost(column, choice);
      bounds[column]?.push((forward[column]?.[choice] ?? 0) + rest);
    }
    after = withOwn;
  }
  return bounds;
}

/** The least of a table's entries plus a step; entries come cheapest first, so it stops when none can win. */
function reach(table: Float64Array, order: readonly number[], step: (entry: number) => number): number {
  let best = Number.POSITIVE_INFINITY;
  for (const entry of order) {
    const so = table[entry] ?? 0;
    if (so >= best) break;
    const cost = so + step(entry);
    if (cost < best) best = cost;
  }
  return best;
}

function readBack(
  problem: PathProblem,
  chain: readonly (Link | undefined)[],
  forward: readonly Float64Array[],
): Way | undefined {
  const last = forward.length - 1;
  const cost = Math.min(...(forward[last] ?? []));
  if (cost === Number.POSITIVE_INFINITY) return undefined;
  const choices: number[] = [forward[last]?.indexOf(cost) ?? 0];
  for (let column = last; column > 0; column -= 1) {
    const choice = choices[0] ?? 0;
    const goal = (forward[column]?.[choice] ?? 0) - problem.choiceCost(column, choice);
    const before = forward[column - 1] ?? new Float64Array();
    const from = before.findIndex(
      (so, entry) => so + costOf(problem, chain[column - 1], entry, choice) === goal,
    );
    choices.unshift(from);
  }
  return { choices, cost };
}

const costOf = (problem: PathProblem, link: Link | undefined, from: number, to: number): number =>
  link === undefined ? 0 : problem.linkCost(link, from, to);

const cheapestFirst = (table: Float64Array): readonly number[] =>
  [...table.keys()].sort((a, b) => (table[a] ?? 0) - (table[b] ?? 0) || a - b);

const inOrder = (choices: readonly number[]): readonly number[] => [...choices].sort((a, b) => a - b);

import { cheapestByElimination, costThroughKept, type KeptChoices } from "./bucket-elimination.js";
import { costOfWay, type Link, type PathProblem, type Way } from "./choice-graph.js";
import {
  cheapestTreeWay,
  costsThrough,
  type LinkTree,
  looseEnds,
  rootsOf,
  spanningTree,
  type TreeCosts,
  throughRootsAlone,
  treeCosts,
} from "./tree-dp.js";

/** Choices a column keeps for the first, incomplete search, which only has to find some good way. */
const FIRST_BEAM = 6;

/**
 * The cheapest way, the same as `plainCheapestWay` finds, sooner. In words: what hangs loose from the
 * repeats (the whole tune where there is none) is a tree, nearly always a chain, and one pass gives for
 * every choice it hangs on what it costs at least; another pass outwards picks it. undefined where no way
 * exists.
 */
export function cheapestWay(problem: PathProblem): Way | undefined {
  const { tree, costs, inner } = searched(problem);
  const chosen = new Map<number, number>();
  if (inner !== undefined) {
    const choices = cheapestInLoops(inner);
    if (choices === undefined) return undefined;
    inner.columns.forEach((column, index) => {
      chosen.set(column, choices[index] ?? 0);
    });
  }
  const choices = cheapestTreeWay(problem, tree, costs.below, chosen);
  return choices && { choices, cost: costOfWay(problem, choices) };
}

/**
 * For every choice of every column the cost of the cheapest way that makes it; exact up to `slack` above
 * the cheapest way's cost, beyond that a lower bound which is itself above it.
 */
export function exactCostThroughEach(problem: PathProblem, way: Way, slack: number): readonly Float64Array[] {
  const { tree, costs, inner } = searched(problem);
  const most = way.cost + slack;
  if (inner === undefined) return costsThrough(problem, tree, costs, throughRootsAlone(tree, costs), most);
  const kept = choicesWithin(inner.bounds, most);
  const exact = costThroughKept(inner.problem, kept);
  const through = new Map(
    inner.columns.map((column, index) => {
      const whole = Float64Array.from(inner.bounds[index] ?? []);
      kept[index]?.forEach((choice, place) => {
        whole[choice] = exact[index]?.[place] ?? Number.POSITIVE_INFINITY;
      });
      return [column, whole];
    }),
  );
  return costsThrough(problem, tree, costs, (column) => through.get(column) ?? new Float64Array(), most);
}

interface Searched {
  readonly tree: LinkTree;
  readonly costs: TreeCosts;
  /** What lies in loops; undefined where nothing is repeated. */
  readonly inner: Loops | undefined;
}

/** The part of a problem that lies in loops or between two, with what hangs on it in the choices' own costs. */
interface Loops {
  /** Columns of the whole problem. */
  readonly columns: readonly number[];
  readonly problem: PathProblem;
  /** For every choice a lower bound of the whole problem's cost through it. */
  readonly bounds: readonly Float64Array[];
}

/** What is known of a problem; the cheapest way and the cost of the others are asked of the same one. */
const known = new WeakMap<PathProblem, Searched>();

function searched(problem: PathProblem): Searched {
  const before = known.get(problem);
  if (before !== undefined) return before;
  const tree = looseEnds(problem);
  const costs = treeCosts(problem, tree);
  const found = { tree, costs, inner: loopsOf(problem, tree, costs) };
  known.set(problem, found);
  return found;
}

function loopsOf(problem: PathProblem, tree: LinkTree, { below }: TreeCosts): Loops | undefined {
  const columns = rootsOf(tree);
  const placeOf = new Map(columns.map((column, index) => [column, index]));
  const written = new Map<Link, Link>();
  for (const link of problem.links) {
    const [from, to] = [placeOf.get(link.from), placeOf.get(link.to)];
    if (from !== undefined && to !== undefined) written.set({ from, to }, link);
  }
  if (written.size === 0) return undefined;
  const inner: PathProblem = {
    sizes: columns.map((column) => problem.sizes[column] ?? 0),
    choiceCost: (column, choice) => below[columns[column] ?? 0]?.[choice] ?? 0,
    links: [...written.keys()],
    stepCost: (link) => problem.stepCost(written.get(link) ?? link),
  };
  // Without the links that close loops the rest is a tree. They only add cost, so it bounds from below.
  const { tree: spanning } = spanningTree(inner);
  const costs = treeCosts(inner, spanning);
  return {
    columns,
    problem: inner,
    bounds: costsThrough(inner, spanning, costs, throughRootsAlone(spanning, costs)),
  };
}

/**
 * The cheapest choices in the loops. A search among the few best choices of each column gives some whole
 * way; every choice whose bound lies above its cost cannot be part of a cheaper one and is dropped; what
 * is left is searched whole.
 */
function cheapestInLoops({ problem, bounds }: Loops): readonly number[] | undefined {
  const widest = Math.max(...problem.sizes);
  const ranked = bounds.map((column) =>
    [...column.keys()].sort((a, b) => (column[a] ?? 0) - (column[b] ?? 0) || a - b),
  );
  for (let beam = FIRST_BEAM; ; beam *= 3) {
    const some = cheapestByElimination(
      problem,
      ranked.map((column) => column.slice(0, beam)),
    );
    if (some !== undefined) return cheapestByElimination(problem, choicesWithin(bounds, some.cost))?.choices;
    if (beam >= widest) return undefined;
  }
}

/** The choices whose bound is no higher than a cost, in the order of their column. */
const choicesWithin = (through: readonly Float64Array[], cost: number): KeptChoices =>
  through.map((column) => [...column.keys()].filter((choice) => (column[choice] ?? 0) <= cost));

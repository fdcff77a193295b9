import { cheapestByElimination, costThroughKept, type KeptChoices } from "./elimination.js";
import {
  cheapestTreeWay,
  costsThrough,
  type LinkTree,
  linkTree,
  type TreeCosts,
  treeCosts,
} from "./link-tree.js";
import type { PathProblem, Way } from "./path-problem.js";

/** Choices a column keeps for the first, incomplete search, which only has to find some good way. */
const FIRST_BEAM = 6;

/**
 * The cheapest way, the same as `plainCheapestWay` finds, sooner. In words: without the jumps that close
 * a loop the problem is a tree, nearly always a chain, and two passes give for every choice the cheapest
 * tree through it. The jumps left out only add cost, so that is a lower bound. A search among the few
 * best choices of each column gives some whole way; every choice whose bound lies above its cost cannot
 * be part of a cheaper one and is dropped; what is left is searched whole. undefined where no way exists.
 */
export function cheapestWay(problem: PathProblem): Way | undefined {
  if (problem.sizes.length === 0) return { choices: [], cost: 0 };
  const { tree, costs } = searched(problem);
  if (tree.loops.length === 0) return cheapestTreeWay(problem, tree, costs.below);
  const through = boundsOf(problem);
  const widest = Math.max(...problem.sizes);
  const ranked = through.map((column) =>
    [...column.keys()].sort((a, b) => (column[a] ?? 0) - (column[b] ?? 0) || a - b),
  );
  for (let beam = FIRST_BEAM; ; beam *= 3) {
    const some = cheapestByElimination(
      problem,
      ranked.map((column) => column.slice(0, beam)),
    );
    if (some !== undefined) return cheapestByElimination(problem, choicesWithin(through, some.cost));
    if (beam >= widest) return undefined;
  }
}

/**
 * For every choice of every column the cost of the cheapest way that makes it; exact up to `slack` above
 * the cheapest way's cost, beyond that a lower bound which is itself above it.
 */
export function exactCostThroughEach(problem: PathProblem, way: Way, slack: number): readonly Float64Array[] {
  const through = boundsOf(problem);
  if (searched(problem).tree.loops.length === 0) return through;
  const kept = choicesWithin(through, way.cost + slack);
  const exact = costThroughKept(problem, kept);
  return through.map((column, index) => {
    const whole = Float64Array.from(column);
    kept[index]?.forEach((choice, place) => {
      whole[choice] = exact[index]?.[place] ?? Number.POSITIVE_INFINITY;
    });
    return whole;
  });
}

interface Searched {
  readonly tree: LinkTree;
  readonly costs: TreeCosts;
  bounds?: readonly Float64Array[];
}

/** What is known of a problem; the cheapest way and the cost of the others are asked of the same one. */
const known = new WeakMap<PathProblem, Searched>();

function searched(problem: PathProblem): Searched {
  const before = known.get(problem);
  if (before !== undefined) return before;
  const tree = linkTree(problem);
  const found: Searched = { tree, costs: treeCosts(problem, tree) };
  known.set(problem, found);
  return found;
}

/** For every choice the cheapest tree through it; worked out only where it is asked for. */
function boundsOf(problem: PathProblem): readonly Float64Array[] {
  const found = searched(problem);
  found.bounds ??= costsThrough(problem, found.tree, found.costs);
  return found.bounds;
}

/** The choices whose bound is no higher than a cost, in the order of their column. */
const choicesWithin = (through: readonly Float64Array[], cost: number): KeptChoices =>
  through.map((column) => [...column.keys()].filter((choice) => (column[choice] ?? 0) <= cost));

import { costThroughKept } from "./bucket-elimination.js";
import { costOfWay, type PathProblem, type Way } from "./choice-graph.js";
import { boundsWithin, cheapestInLoops, choicesWithin, type Loops, loopsOf } from "./loops.js";
import {
  cheapestTreeWay,
  costsThrough,
  type LinkTree,
  looseEnds,
  rootsOf,
  type TreeCosts,
  throughRootsAlone,
  treeCosts,
} from "./tree-dp.js";

/**
 * The cheapest way, no dearer than what `plainCheapestWay` finds, sooner; of equal ways the one whose choices are listed
 * first, what lies in repeats decided before what hangs loose from them. In words: what hangs loose from the
 * repeats (the whole tune where there is none) is a tree, nearly always a chain, and one pass gives for
 * every choice it hangs on what it costs at least; another pass outwards picks it. undefined where no way
 * exists that costs less than `below`, which is often known before the repeats are searched.
 */
export function cheapestWay(problem: PathProblem, below = Number.POSITIVE_INFINITY): Way | undefined {
  if (leastOfWays(problem) >= below) return undefined;
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
  const way = choices && { choices, cost: costOfWay(problem, choices) };
  return way !== undefined && way.cost < below ? way : undefined;
}

/** What any way costs at least; exact where nothing is repeated, known long before the cheapest way where something is. */
export function leastOfWays(problem: PathProblem): number {
  const { tree, costs, inner } = searched(problem);
  return inner === undefined ? leastOf(tree, costs) : leastOf(inner.tree, inner.costs);
}

/** What the cheapest way of a tree costs. */
const leastOf = (tree: LinkTree, { below }: TreeCosts): number =>
  rootsOf(tree).reduce((sum, root) => sum + Math.min(...(below[root] ?? [])), 0);

/**
 * For every choice of every column the cost of the cheapest way that makes it; exact up to `slack` above
 * the cheapest way's cost, beyond that a lower bound which is itself above it.
 */
export function exactCostThroughEach(problem: PathProblem, way: Way, slack: number): readonly Float64Array[] {
  const found = searched(problem);
  const most = way.cost + slack;
  const before = found.through;
  if (before?.most === most) return before.costs;
  const costs = throughWithin(problem, found, most);
  found.through = { most, costs };
  return costs;
}

function throughWithin(problem: PathProblem, { tree, costs, inner }: Searched, most: number) {
  if (inner === undefined) return costsThrough(problem, tree, costs, throughRootsAlone(tree, costs), most);
  const bounds = boundsWithin(inner, most);
  const kept = choicesWithin(bounds, most);
  const amongKept = costThroughKept(inner.problem, kept);
  // A way that leaves the kept choices costs this at least, and may be cheaper than one that stays among them.
  const leastElse = leastAbove(bounds, most);
  const through = new Map(
    inner.columns.map((column, index) => {
      const whole = Float64Array.from(bounds[index] ?? []);
      kept[index]?.forEach((choice, place) => {
        whole[choice] = Math.min(amongKept[index]?.[place] ?? Number.POSITIVE_INFINITY, leastElse);
      });
      return [column, whole];
    }),
  );
  return costsThrough(problem, tree, costs, (column) => through.get(column) ?? new Float64Array(), most);
}

/** The least bound that is higher than a cost. */
function leastAbove(bounds: readonly Float64Array[], most: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (const column of bounds) for (const bound of column) if (bound > most && bound < least) least = bound;
  return least;
}

interface Searched {
  readonly tree: LinkTree;
  readonly costs: TreeCosts;
  /** What lies in loops; undefined where nothing is repeated. */
  readonly inner: Loops | undefined;
  /** What was asked last: costs through every choice, exact up to so many points. */
  through?: { readonly most: number; readonly costs: readonly Float64Array[] };
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

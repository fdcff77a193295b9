import { cheapestOver } from "./cheapest-step.js";
import type { Link, PathProblem } from "./choice-graph.js";

/**
 * What any way through a problem costs at least, by its first columns: the cheapest way along them, from each to the next.
 * What jumps cost, and all that comes later, is left out, and nothing costs less than 0. Columns may be added between
 * two questions; each is looked at once.
 */
export function leastSoFar(problem: PathProblem): () => number {
  const stepTo = new Map<number, Link>();
  for (const link of problem.links) if (link.to === link.from + 1) stepTo.set(link.to, link);
  /** What the columns before the last row of steps cost; where playing does not go on, a new row begins. */
  let before = 0;
  let table = Float64Array.of(0);
  let reached = 0;
  return () => {
    for (; reached < problem.sizes.length; reached += 1) {
      const step = reached === 0 ? undefined : stepTo.get(reached);
      if (step === undefined) before += leastOf(table);
      const own = Float64Array.from({ length: problem.sizes[reached] ?? 0 }, (_, choice) =>
        problem.choiceCost(reached, choice),
      );
      if (step !== undefined) {
        const there = cheapestOver(problem, step, table, true);
        for (let choice = 0; choice < own.length; choice += 1)
          own[choice] = (own[choice] ?? 0) + (there[choice] ?? 0);
      }
      table = own;
    }
    return before + leastOf(table);
  };
}

const leastOf = (costs: Float64Array): number => {
  let least = Number.POSITIVE_INFINITY;
  for (const cost of costs) if (cost < least) least = cost;
  return least;
};

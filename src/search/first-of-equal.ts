import { costThroughKept, type KeptChoices } from "./bucket-elimination.js";
import type { PathProblem } from "./choice-graph.js";
import { linksByColumn, problemOf, settledParts } from "./settled-parts.js";

/**
 * Of several cheapest ways the one whose choices are listed first, from the first column on. What is decided parts what
 * lies on either side, so that each decision asks only what still hangs together with it.
 *
 * @param tied For each column the choices that some cheapest way makes, in ascending order.
 */
export function firstOfEqual(problem: PathProblem, tied: KeptChoices): readonly number[] {
  const linksAt = linksByColumn(problem);
  const left = [...tied];
  const open = [...settledParts(problem, linksAt, left).parts];
  for (let part = open.pop(); part !== undefined; part = open.pop()) {
    const [first = 0] = part.columns;
    left[first] = left[first]?.slice(0, 1) ?? [];
    for (const smaller of settledParts(problem, linksAt, left, part.columns).parts) {
      const inner = problemOf(problem, linksAt, left, smaller);
      const through = costThroughKept(inner, allChoices(inner));
      const least = Math.min(...(through[0] ?? []));
      smaller.columns.forEach((column, place) => {
        left[column] = left[column]?.filter((_, choice) => through[place]?.[choice] === least) ?? [];
      });
      open.push(...settledParts(problem, linksAt, left, smaller.columns).parts);
    }
  }
  return left.map(([choice]) => choice ?? 0);
}

const allChoices = ({ sizes }: PathProblem): KeptChoices => sizes.map((size) => [...Array(size).keys()]);

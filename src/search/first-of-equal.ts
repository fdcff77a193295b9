import { costThroughKept, type KeptChoices } from "./bucket-elimination.js";
import { linksByColumn, type PathProblem } from "./choice-graph.js";
import { problemOf, settledParts } from "./settled-parts.js";

/**
 * Of several cheapest ways the one whose choices are listed first, from the first column on. What is decided parts what
 * lies on either side, so that each decision asks only what still hangs together with it.
 *
 * @param tied For each column the choices that some cheapest way makes, in ascending order.
 */
export function firstOfEqual(problem: PathProblem, tied: KeptChoices): readonly number[] {
  const linksAt = linksByColumn(problem);
  const left = [...tied];
  const open = [...settledParts(linksAt, left)];
  for (let part = open.pop(); part !== undefined; part = open.pop()) {
    const [first = 0] = part.columns;
    left[first] = left[first]?.slice(0, 1) ?? [];
    for (const smaller of settledParts(linksAt, left, part.columns)) {
      const inner = problemOf(problem, linksAt, left, smaller);
      const through = costThroughKept(inner, allChoices(inner));
      const least = Math.min(...(through[0] ?? []));
      smaller.columns.forEach((column, place) => {
        left[column] = choicesThatCost(least, left[column], through[place]);
      });
      open.push(...settledParts(linksAt, left, smaller.columns));
    }
  }
  return left.map(([choice]) => choice ?? 0);
}

/** Of some choices those through which everything costs just so much. */
export const choicesThatCost = (
  cost: number,
  choices: readonly number[] = [],
  through: Float64Array | undefined,
): readonly number[] => choices.filter((_, place) => through?.[place] === cost);

const allChoices = ({ sizes }: PathProblem): KeptChoices => sizes.map((size) => [...Array(size).keys()]);

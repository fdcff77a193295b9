import type { KeptChoices } from "./bucket-elimination.js";
import { cheapestWay, exactCostThroughEach, leastOfWays } from "./cheapest-path.js";
import {
  costOfWay,
  type KnownSteps,
  type Link,
  linksByColumn,
  type PathProblem,
  type Way,
} from "./choice-graph.js";
import { choicesThatCost, firstOfEqual } from "./first-of-equal.js";
import {
  type Part,
  problemOf,
  type StepsAmong,
  settledCost,
  settledParts,
  stepsOf,
} from "./settled-parts.js";

/**
 * Questions to one problem, one after another, of which each allows some choices of each column. What lies between columns
 * with one choice left is worked out by itself and remembered: one question differs from the next in few places. A list
 * of choices counts as the same where it is the same object.
 */
export interface QuestionsAmong {
  /** What the cheapest way costs; Infinity where there is none that costs less than `below`. */
  readonly leastCost: (kept: KeptChoices, below?: number) => number;
  /** The cheapest way, of equal ones that whose choices are listed first; its choices count as in the whole problem. */
  readonly cheapest: (kept: KeptChoices) => Way | undefined;
}

/** What is known of a part. */
interface Known {
  /** The least that it costs, exact once it was searched. */
  least: number;
  /** The part by itself, until then. */
  inner: PathProblem | undefined;
}

export function questionsAmong(problem: PathProblem): QuestionsAmong {
  const linksAt = linksByColumn(problem);
  const stepsAmong = rememberedSteps(problem);
  const numberOf = numbering();
  const parts = new Map<string, Known>();
  const innerOf = (kept: KeptChoices, part: Part) => problemOf(problem, linksAt, kept, part, stepsAmong);
  const knownOf = (kept: KeptChoices, part: Part): Known => {
    let key = "";
    for (const column of part.columns) key += `${column}:${numberOf(kept[column] ?? [])} `;
    for (const column of part.beside) key += `${column}=${kept[column]?.[0]} `;
    const before = parts.get(key);
    if (before !== undefined) return before;
    const inner = innerOf(kept, part);
    const known = { least: leastOfWays(inner), inner };
    parts.set(key, known);
    return known;
  };

  const leastCost = (kept: KeptChoices, below = Number.POSITIVE_INFINITY): number => {
    if (kept.some((choices) => choices.length === 0)) return Number.POSITIVE_INFINITY;
    let cost = settledCost(problem, kept);
    const unsure: Known[] = [];
    for (const part of settledParts(linksAt, kept)) {
      if (cost >= below) return Number.POSITIVE_INFINITY;
      const known = knownOf(kept, part);
      if (known.inner !== undefined) unsure.push(known);
      cost += known.least;
    }
    for (const known of unsure) {
      if (cost >= below) return Number.POSITIVE_INFINITY;
      cost -= known.least;
      const found = known.inner && cheapestWay(known.inner, below - cost);
      known.least = found?.cost ?? below - cost;
      if (found !== undefined) known.inner = undefined;
      cost += known.least;
    }
    return cost < below ? cost : Number.POSITIVE_INFINITY;
  };

  const cheapest = (kept: KeptChoices): Way | undefined => {
    if (kept.some((choices) => choices.length === 0)) return undefined;
    const tied = [...kept];
    for (const part of settledParts(linksAt, kept)) {
      const inner = innerOf(kept, part);
      const way = cheapestWay(inner);
      if (way === undefined) return undefined;
      const through = exactCostThroughEach(inner, way, 0);
      part.columns.forEach((column, place) => {
        tied[column] = choicesThatCost(way.cost, kept[column], through[place]);
      });
    }
    const choices = firstOfEqual(problem, tied);
    const cost = costOfWay(problem, choices);
    return cost < Number.POSITIVE_INFINITY ? { choices, cost } : undefined;
  };
  return { leastCost, cheapest };
}

/** Numbers lists, the same one for the same object. */
function numbering(): (list: readonly number[]) => number {
  const numbers = new WeakMap<readonly number[], number>();
  let last = 0;
  return (list) => {
    const before = numbers.get(list);
    if (before !== undefined) return before;
    last += 1;
    numbers.set(list, last);
    return last;
  };
}

/** Steps among some choices, the same object where the same are asked for again. */
function rememberedSteps(problem: PathProblem): StepsAmong {
  const afresh = stepsOf(problem);
  const known = new Map<Link, { from: readonly number[]; to: readonly number[]; steps: KnownSteps }[]>();
  return (link, from, to) => {
    const before = known.get(link) ?? [];
    known.set(link, before);
    const same = before.find((one) => one.from === from && one.to === to);
    if (same !== undefined) return same.steps;
    const steps = afresh(link, from, to);
    if (steps !== undefined) before.push({ from, to, steps });
    return steps;
  };
}

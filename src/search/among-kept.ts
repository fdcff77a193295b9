import type { KeptChoices } from "./bucket-elimination.js";
import { cheapestWay } from "./cheapest-path.js";
import type { ChoiceClasses, KnownSteps, Link, PathProblem, Way } from "./choice-graph.js";

/** The cheapest way that makes kept choices only; undefined where there is none. Its choices count as in the whole problem. */
export function cheapestAmong(problem: PathProblem, kept: KeptChoices): Way | undefined {
  if (kept.some((choices) => choices.length === 0)) return undefined;
  const way = cheapestWay(onlyKept(problem, kept));
  return way && { cost: way.cost, choices: way.choices.map((place, column) => kept[column]?.[place] ?? 0) };
}

/** The problem made small: choices by their place among the kept ones, which are listed in ascending order. */
function onlyKept(problem: PathProblem, kept: KeptChoices): PathProblem {
  const at = (column: number, place: number): number => kept[column]?.[place] ?? 0;
  const known = new Map<Link, KnownSteps | undefined>();
  return {
    sizes: kept.map((choices) => choices.length),
    links: problem.links,
    choiceCost: (column, place) => problem.choiceCost(column, at(column, place)),
    stepCost: (link) => {
      const cost = problem.stepCost(link);
      return (from, to) => cost(at(link.from, from), at(link.to, to));
    },
    knownOf: (link) => {
      if (known.has(link)) return known.get(link);
      const whole = problem.knownOf?.(link);
      const small = whole && amongKept(whole, kept[link.from] ?? [], kept[link.to] ?? []);
      known.set(link, small);
      return small;
    },
  };
}

const NOT_KEPT = -1;

function amongKept(known: KnownSteps, from: readonly number[], to: readonly number[]): KnownSteps {
  const placeOf = new Int32Array(known.from.of.length).fill(NOT_KEPT);
  for (let place = 0; place < from.length; place += 1) placeOf[from[place] ?? 0] = place;
  const found: (readonly number[] | undefined)[] = [];
  return {
    cost: (one, other, enough) => known.cost(from[one] ?? 0, to[other] ?? 0, enough),
    from: classesOf(known.from, from),
    to: classesOf(known.to, to),
    least: known.least,
    sourcesOf: (place) => {
      const sources = found[place] ?? known.sourcesOf(to[place] ?? 0);
      if (sources === undefined || found[place] !== undefined) return sources;
      const places: number[] = [];
      for (const source of sources) {
        const at = placeOf[source] ?? NOT_KEPT;
        if (at !== NOT_KEPT) places.push(at);
      }
      found[place] = places;
      return places;
    },
  };
}

function classesOf({ count, of }: ChoiceClasses, choices: readonly number[]): ChoiceClasses {
  const kept = new Uint8Array(choices.length);
  for (let place = 0; place < choices.length; place += 1) kept[place] = of[choices[place] ?? 0] ?? 0;
  return { count, of: kept };
}

import type { KeptChoices } from "./bucket-elimination.js";
import { cheapestWay } from "./cheapest-path.js";
import type { ChoiceClasses, KnownSteps, Link, PathProblem, Way } from "./choice-graph.js";

/**
 * The cheapest way that makes kept choices only; undefined where there is none that costs less than `below`. Its choices
 * count as in the whole problem.
 */
export function cheapestAmong(problem: PathProblem, kept: KeptChoices, below?: number): Way | undefined {
  if (kept.some((choices) => choices.length === 0)) return undefined;
  const way = cheapestWay(onlyKept(problem, kept), below);
  return way && { cost: way.cost, choices: way.choices.map((place, column) => kept[column]?.[place] ?? 0) };
}

/** The problem made small: choices by their place among the kept ones, which are listed in ascending order. */
function onlyKept(problem: PathProblem, kept: KeptChoices): PathProblem {
  const at = (column: number, place: number): number => kept[column]?.[place] ?? 0;
  const stepsOver = smallStepsOf(problem);
  return {
    sizes: kept.map((choices) => choices.length),
    links: problem.links,
    choiceCost: (column, place) => problem.choiceCost(column, at(column, place)),
    stepCost: (link) => {
      const cost = problem.stepCost(link);
      return (from, to) => cost(at(link.from, from), at(link.to, to));
    },
    knownOf: (link) => {
      const whole = problem.knownOf?.(link);
      return whole && stepsOver(link, whole, kept[link.from] ?? [], kept[link.to] ?? []);
    },
  };
}

/** The steps over a link among some choices of its columns. */
interface SmallSteps {
  readonly from: readonly number[];
  readonly to: readonly number[];
  readonly steps: KnownSteps;
}

type SmallStepsOf = (
  link: Link,
  whole: KnownSteps,
  from: readonly number[],
  to: readonly number[],
) => KnownSteps;

const asked = new WeakMap<PathProblem, SmallStepsOf>();

/** Small steps kept for a link. */
const REMEMBERED = 2;

/**
 * The steps among kept choices, the same object where the same are kept as shortly before: one question to a problem
 * differs from the next in few columns, and what was answered of the same steps is remembered.
 */
function smallStepsOf(problem: PathProblem): SmallStepsOf {
  const known = asked.get(problem);
  if (known !== undefined) return known;
  const last = new Map<Link, SmallSteps[]>();
  const found: SmallStepsOf = (link, whole, from, to) => {
    const before = last.get(link) ?? [];
    last.set(link, before);
    const same = before.find((one) => areEqual(one.from, from) && areEqual(one.to, to));
    if (same !== undefined) return same.steps;
    const steps = amongKept(whole, from, to);
    if (before.length === REMEMBERED) before.shift();
    before.push({ from, to, steps });
    return steps;
  };
  asked.set(problem, found);
  return found;
}

function areEqual(one: readonly number[], other: readonly number[]): boolean {
  if (one.length !== other.length) return false;
  for (let at = 0; at < one.length; at += 1) if (one[at] !== other[at]) return false;
  return true;
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

import type { KeptChoices } from "./bucket-elimination.js";
import type { ChoiceClasses, KnownSteps, Link, PathProblem } from "./choice-graph.js";

/** Columns with several choices left that hang together. */
export interface Part {
  /** By their number in the problem, in ascending order. */
  readonly columns: readonly number[];
  /** Columns with one choice left that it is linked with. */
  readonly beside: readonly number[];
}

/**
 * A problem taken apart where a column has one choice left: what is decided there parts what lies on either side. Of all
 * columns, or of some that hang together with no others.
 */
export function settledParts(
  linksAt: readonly (readonly Link[])[],
  kept: KeptChoices,
  among: Iterable<number> = kept.keys(),
): readonly Part[] {
  const isReached = new Uint8Array(kept.length);
  const parts: Part[] = [];
  for (const column of among) {
    if (isSettled(kept, column) || isReached[column] === 1) continue;
    const columns = [column];
    const beside = new Set<number>();
    isReached[column] = 1;
    for (const reached of columns) {
      for (const { from, to } of linksAt[reached] ?? []) {
        const other = from === reached ? to : from;
        if (isSettled(kept, other)) beside.add(other);
        else if (isReached[other] === 0) {
          isReached[other] = 1;
          columns.push(other);
        }
      }
    }
    parts.push({ columns: columns.sort((one, other) => one - other), beside: [...beside] });
  }
  return parts;
}

const isSettled = (kept: KeptChoices, column: number): boolean => kept[column]?.length === 1;

/** What the columns with one choice left cost, and the steps between them. */
export function settledCost(problem: PathProblem, kept: KeptChoices): number {
  let cost = 0;
  for (const [column, choices] of kept.entries())
    if (choices.length === 1) cost += problem.choiceCost(column, choices[0] ?? 0);
  for (const link of problem.links)
    if (isSettled(kept, link.from) && isSettled(kept, link.to))
      cost += problem.stepCost(link)(kept[link.from]?.[0] ?? 0, kept[link.to]?.[0] ?? 0);
  return cost;
}

/** What is known of the steps over a link among some choices of its columns. */
export type StepsAmong = (
  link: Link,
  from: readonly number[],
  to: readonly number[],
) => KnownSteps | undefined;

/**
 * A part as a problem of its own: columns and choices by their place among the part's, steps from and to what is settled
 * beside it in the cost of the choices.
 */
export function problemOf(
  problem: PathProblem,
  linksAt: readonly (readonly Link[])[],
  kept: KeptChoices,
  { columns }: Part,
  stepsAmong: StepsAmong = stepsOf(problem),
): PathProblem {
  const placeOf = new Map(columns.map((column, place) => [column, place]));
  const written = new Map<Link, Link>();
  const costs = columns.map((column) => {
    const choices = kept[column] ?? [];
    const own = Float64Array.from(choices, (choice) => problem.choiceCost(column, choice));
    for (const link of linksAt[column] ?? []) {
      const other = link.from === column ? link.to : link.from;
      const place = placeOf.get(other);
      if (place !== undefined) {
        if (link.from === column) written.set({ from: placeOf.get(column) ?? 0, to: place }, link);
        continue;
      }
      const settled = kept[other]?.[0] ?? 0;
      const step = problem.stepCost(link);
      choices.forEach((choice, at) => {
        own[at] = (own[at] ?? 0) + (link.from === column ? step(choice, settled) : step(settled, choice));
      });
    }
    return own;
  });
  const choicesAt = (place: number) => kept[columns[place] ?? 0] ?? [];
  return {
    sizes: costs.map((own) => own.length),
    links: [...written.keys()],
    choiceCost: (place, choice) => costs[place]?.[choice] ?? 0,
    stepCost: (link) => {
      const step = problem.stepCost(written.get(link) ?? link);
      const [from, to] = [choicesAt(link.from), choicesAt(link.to)];
      return (one, other) => step(from[one] ?? 0, to[other] ?? 0);
    },
    knownOf: (link) => stepsAmong(written.get(link) ?? link, choicesAt(link.from), choicesAt(link.to)),
  };
}

/** The steps among some choices, worked out afresh. */
export const stepsOf =
  (problem: PathProblem): StepsAmong =>
  (link, from, to) => {
    const known = problem.knownOf?.(link);
    return known && amongKept(known, from, to);
  };

const NOT_KEPT = -1;

/** What is known of steps, for some of the choices on either side, by their place. */
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

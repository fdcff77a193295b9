import type { KeptChoices } from "./bucket-elimination.js";
import type { ChoiceClasses, KnownSteps, Link, PathProblem } from "./choice-graph.js";

/** A problem taken apart where a column has one choice left: what is decided there parts what lies on either side. */
export interface SettledParts {
  /** What the columns with one choice left cost, and the steps between them. */
  readonly settledCost: number;
  readonly parts: readonly Part[];
}

/** Columns with several choices left that hang together. */
export interface Part {
  /** By their number in the problem, in ascending order. */
  readonly columns: readonly number[];
  /** Columns with one choice left that it is linked with. */
  readonly beside: readonly number[];
}

/** The parts of a problem among some choices of each column; of all columns, or of some that hang together with no others. */
export function settledParts(
  problem: PathProblem,
  linksAt: readonly (readonly Link[])[],
  kept: KeptChoices,
  among: Iterable<number> = kept.keys(),
): SettledParts {
  const isSettled = (column: number) => kept[column]?.length === 1;
  const only = (column: number) => kept[column]?.[0] ?? 0;
  const isReached = new Uint8Array(kept.length);
  const parts: Part[] = [];
  let settledCost = 0;
  for (const column of among) {
    if (isSettled(column)) {
      settledCost += problem.choiceCost(column, only(column));
      for (const link of linksAt[column] ?? [])
        if (link.from === column && isSettled(link.to))
          settledCost += problem.stepCost(link)(only(column), only(link.to));
    } else if (isReached[column] === 0) {
      const columns = [column];
      const beside = new Set<number>();
      isReached[column] = 1;
      for (const reached of columns) {
        for (const { from, to } of linksAt[reached] ?? []) {
          const other = from === reached ? to : from;
          if (isSettled(other)) beside.add(other);
          else if (isReached[other] === 0) {
            isReached[other] = 1;
            columns.push(other);
          }
        }
      }
      parts.push({ columns: columns.sort((one, other) => one - other), beside: [...beside] });
    }
  }
  return { settledCost, parts };
}

/** By column, the links it is one end of; a link to itself once. */
export function linksByColumn({ sizes, links }: PathProblem): readonly (readonly Link[])[] {
  const linksAt: Link[][] = sizes.map(() => []);
  for (const link of links) {
    linksAt[link.from]?.push(link);
    if (link.to !== link.from) linksAt[link.to]?.push(link);
  }
  return linksAt;
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
const stepsOf =
  (problem: PathProblem): StepsAmong =>
  (link, from, to) => {
    const known = problem.knownOf?.(link);
    return known && amongKept(known, from, to);
  };

const NOT_KEPT = -1;

/** What is known of steps, for some of the choices on either side, by their place. */
export function amongKept(known: KnownSteps, from: readonly number[], to: readonly number[]): KnownSteps {
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

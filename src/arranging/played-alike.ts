import { cheapestAmong } from "../search/among-kept.js";
import type { Way } from "../search/choice-graph.js";
import type { PackedColumn } from "./grips/packed-column.js";
import type { ArrangingProblem } from "./tune-problem.js";

/** Events in a row that stand elsewhere in the tune too. */
export interface Passage {
  readonly columns: readonly number[];
}

/** What is to be played in all passages of a group. */
interface Plan {
  readonly group: readonly Passage[];
  /** For each event of a passage what is done there. */
  readonly shapes: readonly Shape[];
  /** What it costs at least in each passage, as far as it is known. */
  readonly costs: readonly number[];
}

/** What every choice costs the whole arrangement at least, exact for those of ways no dearer than `near`. */
export interface Known {
  readonly through: readonly Float64Array[];
  readonly near: number;
}

/** Beside others that are played alike a passage may cost less than by itself: what costs up to this many times its price there is tried. */
const MOST_SHARES = 2;

/**
 * A way on which the passages of each group are played alike, as the one of them is that does it for least. Each passage
 * after the first may cost the whole arrangement so many points; where that is not enough for all, those that cost most
 * stay as they were, and so does each that costs more than that by itself: what stands before or after forbids it.
 */
export function playedAlike(
  problem: ArrangingProblem,
  way: Way,
  groups: readonly (readonly Passage[])[],
  eachAgain: number,
  known: Known,
): Way {
  let plans = groups.map((group) => planFor(problem, way, group, known.through, eachAgain));
  for (;;) {
    plans = plans.filter(({ group }) => group.length > 1);
    if (plans.length === 0) return way;
    const copies = plans.reduce((sum, { group }) => sum + group.length - 1, 0);
    const most = way.cost + copies * eachAgain;
    const found = wayWith(problem, plans, known, most);
    if (found === undefined) {
      const dearest = Math.max(...plans.flatMap(({ costs }) => costs));
      plans = plans.map((plan) => amongPassages(plan, (cost) => cost < dearest));
      continue;
    }
    const fewer = withoutDearest(problem, way, plans, found, eachAgain, known);
    if (fewer === undefined) return found;
    plans = fewer;
  }
}

/** The plans without the passage that costs the whole most to play alike; undefined where none costs more than it may. */
function withoutDearest(
  problem: ArrangingProblem,
  way: Way,
  plans: readonly Plan[],
  found: Way,
  eachAgain: number,
  known: Known,
): Plan[] | undefined {
  let dearest = eachAgain;
  if (found.cost - way.cost <= dearest) return undefined;
  let fewer: Plan[] | undefined;
  for (const plan of plans) {
    plan.group.forEach((passage, place) => {
      if (playedIn(problem, way, passage) === nameOf(plan.shapes)) return;
      // One that is left alone need not be like any other.
      const left = plans
        .map((one) => (one === plan ? amongPassages(one, (_, index) => index !== place) : one))
        .filter(({ group }) => group.length > 1);
      const without = wayWith(problem, left, known, found.cost - dearest - 1);
      const cost = found.cost - (without?.cost ?? found.cost);
      if (cost <= dearest) return;
      dearest = cost;
      fewer = left;
    });
  }
  return fewer;
}

const amongPassages = (
  { group, costs, shapes }: Plan,
  isKept: (cost: number, index: number) => boolean,
): Plan => ({
  group: group.filter((_, index) => isKept(costs[index] ?? 0, index)),
  costs: costs.filter(isKept),
  shapes,
});

/** The passage that its group can be played like for least, one that is played otherwise after all counted with what it may cost. */
function planFor(
  problem: ArrangingProblem,
  way: Way,
  group: readonly Passage[],
  through: readonly Float64Array[],
  eachAgain: number,
): Plan {
  // Most passages of a group are played alike already: each way of playing is judged once.
  const models = new Map(
    group.map((passage) => {
      const shapes = shapesIn(problem, way, passage);
      return [nameOf(shapes), shapes];
    }),
  );
  const plans = [...models.values()].map((shapes) => {
    const costs = group.map((passage) => extraCost(problem, way, passage, shapes, through));
    return amongPassages({ group, costs, shapes }, (cost) => cost <= MOST_SHARES * eachAgain);
  });
  const inAll = ({ costs }: Plan) =>
    costs.reduce((sum, cost) => sum + cost, 0) + (group.length - costs.length) * eachAgain;
  const [best] = plans.sort((one, other) => inAll(one) - inAll(other));
  return best ?? { group: [], costs: [], shapes: [] };
}

/** What it costs at least to play a passage so: no less than any of its events asks by itself. */
function extraCost(
  problem: ArrangingProblem,
  way: Way,
  { columns }: Passage,
  shapes: readonly Shape[],
  through: readonly Float64Array[],
): number {
  let most = 0;
  columns.forEach((column, place) => {
    const alike = choicesLike(problem, column, shapes[place]);
    const least = Math.min(...alike.map((choice) => through[column]?.[choice] ?? Number.POSITIVE_INFINITY));
    most = Math.max(most, least - way.cost);
  });
  return most;
}

/**
 * The cheapest way that keeps to some plans wherever their choices exist; undefined where there is none that costs
 * no more than `most`. It is looked for first among the choices that a way no dearer than `near` can make. What is
 * found there bounds the rest: a choice whose ways all cost more can be part of none as cheap.
 */
function wayWith(
  problem: ArrangingProblem,
  plans: readonly Plan[],
  { through, near }: Known,
  most: number,
): Way | undefined {
  const planned = new Map<number, readonly number[]>();
  for (const { group, shapes } of plans) {
    for (const { columns } of group) {
      columns.forEach((column, place) => {
        const alike = choicesLike(problem, column, shapes[place]);
        if (alike.length > 0) planned.set(column, alike);
      });
    }
  }
  const among = (cost: number) =>
    cheapestAmong(
      problem,
      problem.sizes.map((size, column) => choicesWithin(through[column], size, cost, planned.get(column))),
      most + 1,
    );
  const found = among(Math.min(near, most));
  if (most <= near || (found !== undefined && found.cost <= near)) return found;
  return among(Math.min(found?.cost ?? most, most));
}

/** The choices of a column, or some of them, that a way can make which costs no more than `cost`. */
function choicesWithin(
  through: Float64Array | undefined,
  size: number,
  cost: number,
  some?: readonly number[],
): readonly number[] {
  const isWithin = (choice: number) => (through?.[choice] ?? 0) <= cost;
  if (some !== undefined) return some.filter(isWithin);
  const within: number[] = [];
  for (let choice = 0; choice < size; choice += 1) if (isWithin(choice)) within.push(choice);
  return within;
}

/** How an event is played: what sounds where, under which fingers, and what of it rings on. */
interface Shape {
  readonly name: string;
  /** Name of its supporting notes, by which others like it are found. */
  readonly supports: string;
}

/** How each event of a passage is played. */
const shapesIn = (problem: ArrangingProblem, way: Way, { columns }: Passage): readonly Shape[] =>
  columns.flatMap((column) => {
    const there = problem.columns[column];
    const choice = way.choices[column] ?? 0;
    return there === undefined
      ? []
      : { name: shapeName(there, choice), supports: there.supportsAt(choice).name };
  });

const nameOf = (shapes: readonly Shape[]): string => shapes.map(({ name }) => name).join(", ");

/** The same in a word. */
export const playedIn = (problem: ArrangingProblem, way: Way, passage: Passage): string =>
  nameOf(shapesIn(problem, way, passage));

export const isPlayedAlike = (problem: ArrangingProblem, way: Way, group: readonly Passage[]): boolean =>
  new Set(group.map((passage) => playedIn(problem, way, passage))).size <= 1;

function choicesLike(
  { columns }: ArrangingProblem,
  column: number,
  shape: Shape | undefined,
): readonly number[] {
  const there = columns[column];
  if (there === undefined || shape === undefined) return [];
  return there.withSupports(shape.supports).filter((choice) => shapeName(there, choice) === shape.name);
}

function shapeName(column: PackedColumn, row: number): string {
  const ringing =
    column.ringsFromBefore[row] === 1 && column.isHeld[row] === 0 ? column.ringingNotesAt(row) : "";
  return `${column.isSingle[row]}${column.isHeld[row]} ${ringing} ${column.supportsAt(row).name}under ${column.melody[row]}`;
}

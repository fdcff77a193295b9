import { cheapestAmong } from "../search/among-kept.js";
import type { Way } from "../search/choice-graph.js";
import { WORTH_SHOWING_POINTS } from "./alternatives.js";
import type { PackedColumn } from "./grips/packed-column.js";
import type { ArrangingProblem } from "./tune-problem.js";

/** Events in a row that stand elsewhere in the tune too. */
export interface Passage {
  readonly columns: readonly number[];
}

/** What is to be played in all passages of a group. */
export interface Plan {
  readonly group: readonly Passage[];
  /** For each event of a passage what is done there. */
  readonly shapes: readonly string[];
}

interface PricedPlan extends Plan {
  /** What it costs in all passages at least, as far as it is known. */
  readonly cost: number;
}

/** What every choice costs the whole arrangement at least, exact for those of ways no dearer than `near`. */
export interface Known {
  readonly through: readonly Float64Array[];
  readonly near: number;
}

/**
 * A way on which the passages of each group are played alike, as the one of them is that costs least in all of
 * them together. Each passage after the first may cost the whole arrangement so many points; where that is not
 * enough for all groups, those that cost most stay as they were.
 *
 * @param kept What stays as it is meanwhile, but for the passages of the groups.
 */
export function playedAlike(
  problem: ArrangingProblem,
  way: Way,
  groups: readonly (readonly Passage[])[],
  eachAgain: number,
  known: Known,
  kept: readonly Plan[] = [],
): Way {
  let plans = groups.map((group) => planFor(problem, way, group, known.through));
  while (plans.length > 0) {
    const copies = plans.reduce((sum, { group }) => sum + group.length - 1, 0);
    const most = way.cost + copies * eachAgain;
    const found = wayWith(problem, [...kept, ...plans], known, most);
    if (found !== undefined && found.cost <= most) return found;
    const dearest = Math.max(...plans.map(({ cost }) => cost));
    plans = plans.filter(({ cost }) => cost < dearest);
  }
  return way;
}

/** The passage of a way that is the best for all of its group. */
function planFor(
  problem: ArrangingProblem,
  way: Way,
  group: readonly Passage[],
  through: readonly Float64Array[],
): PricedPlan {
  // Most passages of a group are played alike already: each way of playing is judged once.
  const models = new Map(
    group.map((passage) => {
      const shapes = shapesIn(problem, way, passage);
      return [shapes.join(", "), shapes];
    }),
  );
  let best: PricedPlan | undefined;
  for (const shapes of models.values()) {
    let cost = 0;
    for (const { columns } of group) {
      columns.forEach((column, place) => {
        const alike = choicesLike(problem, column, shapes[place] ?? "");
        const least = Math.min(
          ...alike.map((choice) => through[column]?.[choice] ?? Number.POSITIVE_INFINITY),
        );
        cost += Math.min(2 * WORTH_SHOWING_POINTS, Math.max(0, least - way.cost));
      });
    }
    if (best === undefined || cost < best.cost) best = { group, shapes, cost };
  }
  return best ?? { group, shapes: [], cost: 0 };
}

/**
 * The cheapest way that keeps to some plans wherever their choices exist; undefined where there is none that costs
 * no more than `most`. It is looked for first among the choices that a way no dearer than `near` can make, up to
 * which `through` is exact: if one is found there that is itself no dearer, none of the others can be part of a
 * cheaper one.
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
        const alike = choicesLike(problem, column, shapes[place] ?? "");
        if (alike.length > 0) planned.set(column, alike);
      });
    }
  }
  const allowed = problem.sizes.map((size, column) => planned.get(column) ?? [...Array(size).keys()]);
  const isNear = (column: number) => (choice: number) => (through[column]?.[choice] ?? 0) <= near;
  const found = cheapestAmong(
    problem,
    allowed.map((choices, column) => choices.filter(isNear(column))),
  );
  if (found !== undefined && found.cost <= near) return found;
  return most <= near ? undefined : cheapestAmong(problem, allowed);
}

/** How each event of a passage is played. */
export const shapesIn = (problem: ArrangingProblem, way: Way, { columns }: Passage): readonly string[] =>
  columns.map((column) => shapeOf(problem.columns[column], way.choices[column] ?? 0));

/** The same in a word. */
export const playedIn = (problem: ArrangingProblem, way: Way, passage: Passage): string =>
  shapesIn(problem, way, passage).join(", ");

export const isPlayedAlike = (problem: ArrangingProblem, way: Way, group: readonly Passage[]): boolean =>
  new Set(group.map((passage) => playedIn(problem, way, passage))).size <= 1;

/** Choices by what they are played like; a column that comes again is the same list. */
const byShape = new WeakMap<PackedColumn, ReadonlyMap<string, readonly number[]>>();

function choicesLike({ columns }: ArrangingProblem, column: number, shape: string): readonly number[] {
  const there = columns[column];
  if (there === undefined) return [];
  let shapes = byShape.get(there);
  if (shapes === undefined) {
    const found = new Map<string, number[]>();
    for (let choice = 0; choice < there.size; choice += 1) {
      const name = shapeOf(there, choice);
      const alike = found.get(name);
      if (alike === undefined) found.set(name, [choice]);
      else alike.push(choice);
    }
    shapes = found;
    byShape.set(there, found);
  }
  return shapes.get(shape) ?? [];
}

/** How an event is played: what sounds where, under which fingers, and what of it rings on. */
function shapeOf(column: PackedColumn | undefined, row: number): string {
  if (column === undefined) return "";
  const ringing =
    column.ringsFromBefore[row] === 1 && column.isHeld[row] === 0 ? column.ringingNotesAt(row) : "";
  return `${column.isSingle[row]}${column.isHeld[row]} ${ringing} ${column.supportsAt(row).name}under ${column.melody[row]}`;
}

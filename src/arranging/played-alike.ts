import { questionsAmong } from "../search/among-kept.js";
import type { KeptChoices } from "../search/bucket-elimination.js";
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
  const questions = questionsOf(problem, known, way);
  let plans = groups.map((group) => planFor(problem, way, group, known.through, eachAgain));
  for (;;) {
    plans = plans.filter(({ group }) => group.length > 1);
    if (plans.length === 0) return way;
    const copies = plans.reduce((sum, { group }) => sum + group.length - 1, 0);
    const cost = questions.leastCost(plans, way.cost + copies * eachAgain);
    if (cost === Number.POSITIVE_INFINITY) {
      const dearest = Math.max(...plans.flatMap(({ costs }) => costs));
      plans = plans.map((plan) => amongPassages(plan, (one) => one < dearest));
      continue;
    }
    const fewer = withoutDearest(problem, way, plans, cost, eachAgain, questions);
    if (fewer === undefined) return questions.cheapest(plans, cost);
    plans = fewer;
  }
}

/** The plans without the passage that costs the whole most to play alike; undefined where none costs more than it may. */
function withoutDearest(
  problem: ArrangingProblem,
  way: Way,
  plans: readonly Plan[],
  cost: number,
  eachAgain: number,
  questions: Questions,
): Plan[] | undefined {
  let dearest = eachAgain;
  if (cost - way.cost <= dearest) return undefined;
  let fewer: Plan[] | undefined;
  for (const plan of plans) {
    const name = nameOf(plan.shapes);
    plan.group.forEach((passage, place) => {
      if (playedIn(problem, way, passage) === name) return;
      // One that is left alone need not be like any other.
      const left = plans
        .map((one) => (one === plan ? amongPassages(one, (_, index) => index !== place) : one))
        .filter(({ group }) => group.length > 1);
      const saved = cost - Math.min(cost, questions.leastCost(left, cost - dearest - 1));
      if (saved <= dearest) return;
      dearest = saved;
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

/** What plans cost, asked of one problem again and again. */
interface Questions {
  /** What the cheapest way costs that keeps to some plans wherever their choices exist; Infinity where it costs more than `most`. */
  readonly leastCost: (plans: readonly Plan[], most: number) => number;
  /** The cheapest such way, which costs so much. */
  readonly cheapest: (plans: readonly Plan[], cost: number) => Way;
}

/**
 * A way is looked for first among the choices that one no dearer than `near` can make. What is found there bounds the
 * rest: a choice whose ways all cost more can be part of none as cheap. Bounds are rounded up, so that one question after
 * another is asked of the same choices.
 */
function questionsOf(problem: ArrangingProblem, { through, near }: Known, way: Way): Questions {
  const among = questionsAmong(problem);
  const slack = Math.max(near - way.cost, 1);
  const within = new Map<number, KeptChoices>();
  const choicesUpTo = (most: number): KeptChoices => {
    const bound = way.cost + slack * 2 ** Math.ceil(Math.log2(Math.max((most - way.cost) / slack, 1)));
    const before = within.get(bound);
    if (before !== undefined) return before;
    const found = problem.sizes.map((size, column) => choicesWithin(through[column], size, bound));
    within.set(bound, found);
    return found;
  };
  const alike = problem.sizes.map(() => new Map<string, readonly number[]>());
  const keptBy = (plans: readonly Plan[], most: number): KeptChoices => {
    const kept = [...choicesUpTo(most)];
    for (const { group, shapes } of plans) {
      for (const { columns } of group) {
        shapes.forEach((shape, place) => {
          const column = columns[place] ?? 0;
          const there = alike[column]?.get(shape.name) ?? choicesLike(problem, column, shape);
          alike[column]?.set(shape.name, there);
          if (there.length > 0) kept[column] = there;
        });
      }
    }
    return kept;
  };
  return {
    leastCost: (plans, most) => {
      const found = among.leastCost(keptBy(plans, near), most + 1);
      if (most <= near || found <= near) return found;
      const bound = Math.min(found, most);
      return among.leastCost(keptBy(plans, bound), bound + 1);
    },
    cheapest: (plans, cost) => among.cheapest(keptBy(plans, cost)) ?? way,
  };
}

/** The choices of a column that a way can make which costs no more than `cost`. */
function choicesWithin(through: Float64Array | undefined, size: number, cost: number): readonly number[] {
  const within: number[] = [];
  for (let choice = 0; choice < size; choice += 1) if ((through?.[choice] ?? 0) <= cost) within.push(choice);
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

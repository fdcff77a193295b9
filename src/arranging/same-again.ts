import { chordIdentity } from "../harmony/chord-identity.js";
import { cheapestAmong } from "../search/among-kept.js";
import { exactCostThroughEach } from "../search/cheapest-path.js";
import type { Way } from "../search/choice-graph.js";
import type { Tune } from "../song/tune.js";
import { WORTH_SHOWING_POINTS } from "./alternatives.js";
import type { SamenessWeights } from "./costs/cost-table.js";
import type { TuneEvent } from "./events/tune-events.js";
import type { PackedColumn } from "./grips/packed-column.js";
import type { ArrangingProblem } from "./tune-problem.js";

/** A way on which what comes again is played again, and where it is not. */
export interface WayWithSameness {
  readonly way: Way;
  /** Measures that repeat an earlier one and are played otherwise, by index. */
  readonly playedOtherwise: readonly number[];
}

/** A measure whose melody and chords stand elsewhere in the tune too. */
interface Occurrence {
  readonly measure: number;
  /** Its events. */
  readonly columns: readonly number[];
}

/**
 * The cheapest way once more, with measures that have the same melody over the same chords played alike, fingers
 * included: a player learns a strain once. Of the ways that the cheapest way has for such a measure the one is
 * taken for all that costs least in all of them together; each such measure may cost the whole arrangement so
 * many points, and where that is not enough for all, those that cost most are played otherwise after all: what
 * stands before or after forbids it. Measures for which the player has wishes are neither copied nor changed.
 */
export function sameAgain(
  problem: ArrangingProblem,
  cheapest: Way,
  tune: Tune,
  isWishedAt: (event: TuneEvent) => boolean,
  { eachMeasure }: SamenessWeights,
): WayWithSameness {
  let groups = repeatedMeasures(problem.events, tune).filter((group) => group.length > 1);
  const free = (occurrence: Occurrence) =>
    !occurrence.columns.some((column) => {
      const event = problem.events[column];
      return event !== undefined && isWishedAt(event);
    });
  groups = groups.map((group) => group.filter(free)).filter((group) => group.length > 1);
  const all = groups;
  if (eachMeasure > 0 && groups.some((group) => !isPlayedAlike(problem, cheapest, group))) {
    const through = exactCostThroughEach(problem, cheapest, WORTH_SHOWING_POINTS);
    let plans = groups.map((group) => planFor(problem, cheapest, group, through));
    while (plans.length > 0) {
      const copies = plans.reduce((sum, { group }) => sum + group.length - 1, 0);
      const most = cheapest.cost + copies * eachMeasure;
      const way = wayWith(problem, plans, through, cheapest.cost + WORTH_SHOWING_POINTS, most);
      if (way !== undefined && way.cost <= most)
        return { way, playedOtherwise: playedOtherwise(problem, way, all) };
      const dearest = Math.max(...plans.map(({ cost }) => cost));
      plans = plans.filter(({ cost }) => cost < dearest);
    }
  }
  return { way: cheapest, playedOtherwise: playedOtherwise(problem, cheapest, all) };
}

/** Measures by what they have in common: notes and chords at the same places; in the order of the tune. */
function repeatedMeasures(events: readonly TuneEvent[], tune: Tune): readonly (readonly Occurrence[])[] {
  const groups = new Map<string, Occurrence[]>();
  let next = 0;
  for (const { index, start, length } of tune.measures) {
    const columns: number[] = [];
    let name = `${length}`;
    for (; next < events.length && (events[next]?.onset ?? 0) < start + length; next += 1) {
      const event = events[next];
      if (event === undefined) continue;
      columns.push(next);
      const chord = event.chord === undefined ? "" : chordIdentity(event.chord);
      name += ` ${event.onset - start} ${event.note?.midi} ${event.isNoteOnset} ${event.end - event.onset} ${chord}`;
    }
    if (columns.length === 0) continue;
    const group = groups.get(name) ?? [];
    group.push({ measure: index, columns });
    groups.set(name, group);
  }
  return [...groups.values()];
}

/** What is to be played in all measures of a group. */
interface Plan {
  readonly group: readonly Occurrence[];
  /** For each event of a measure what is done there. */
  readonly shapes: readonly string[];
  /** What it costs in all measures at least, as far as it is known. */
  readonly cost: number;
}

/** The measure of the cheapest way that is the best for all of its group. */
function planFor(
  problem: ArrangingProblem,
  way: Way,
  group: readonly Occurrence[],
  through: readonly Float64Array[],
): Plan {
  // Most measures of a group are played alike already: each way of playing is judged once.
  const models = new Map(
    group.map((occurrence) => {
      const shapes = shapesIn(problem, way, occurrence);
      return [shapes.join(", "), shapes];
    }),
  );
  let best: Plan | undefined;
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
  through: readonly Float64Array[],
  near: number,
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

const isPlayedAlike = (problem: ArrangingProblem, way: Way, group: readonly Occurrence[]): boolean => {
  const [first, ...others] = group.map((occurrence) => playedIn(problem, way, occurrence));
  return others.every((played) => played === first);
};

function playedOtherwise(
  problem: ArrangingProblem,
  way: Way,
  groups: readonly (readonly Occurrence[])[],
): readonly number[] {
  return groups
    .flatMap((group) => {
      const [first] = group.map((occurrence) => playedIn(problem, way, occurrence));
      return group.filter((occurrence) => playedIn(problem, way, occurrence) !== first);
    })
    .map(({ measure }) => measure)
    .sort((one, other) => one - other);
}

const playedIn = (problem: ArrangingProblem, way: Way, occurrence: Occurrence): string =>
  shapesIn(problem, way, occurrence).join(", ");

const shapesIn = (problem: ArrangingProblem, way: Way, { columns }: Occurrence): readonly string[] =>
  columns.map((column) => shapeOf(problem.columns[column], way.choices[column] ?? 0));

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

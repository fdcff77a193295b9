import type { ChoiceClasses, KnownSteps, Link, PathProblem } from "./choice-graph.js";

/**
 * The least cost of getting over a link, for every choice on one side of it, given what each choice of the
 * other side has cost so far: a min-plus product of a vector and a matrix that is hardly ever looked at.
 * Choices of the known side are taken class by class, the class with the least possible sum first, and
 * within a class in the order of their cost; the rest is left as soon as none of it can win. That is sound
 * since a step costs at least what its classes say, and nothing costs less than 0. A choice that only a few
 * can come before asks those few.
 */
export function cheapestOver(
  problem: PathProblem,
  link: Link,
  /** Costs so far of the choices on the side that is known. */
  table: Float64Array,
  /** Whether the known side is the one that is played first. */
  isForward: boolean,
  /** By goal, what is not worth knowing exactly: beyond it the figure is a lower bound that is itself beyond. */
  enough?: (goal: number) => number,
): Float64Array {
  const size = problem.sizes[isForward ? link.to : link.from] ?? 0;
  const known = problem.knownOf?.(link);
  return known === undefined || table.length >= PLACES
    ? overAll(table, size, problem.stepCost(link), isForward, enough)
    : rememberedSteps(table, size, known, isForward, enough);
}

/** A question about some steps and its answer. */
interface Answer {
  readonly isForward: boolean;
  readonly table: Float64Array;
  /** The least cost in the table. */
  readonly cheapest: number;
  readonly limits: Float64Array | undefined;
  readonly least: Float64Array;
}

/** Answers kept for the same steps: the last one each way, for a strain that comes again and for a wish that changes little. */
const ANSWERS = 2;

const answers = new WeakMap<KnownSteps, Answer[]>();

/**
 * Asks the steps, or remembers: what all choices have cost so far soon differs from one time that some measures
 * are played to another by the same number of points for all of them, and so does the answer.
 */
function rememberedSteps(
  table: Float64Array,
  size: number,
  known: KnownSteps,
  isForward: boolean,
  enough: ((goal: number) => number) | undefined,
): Float64Array {
  let cheapest = Number.POSITIVE_INFINITY;
  for (const cost of table) if (cost < cheapest) cheapest = cost;
  if (cheapest === Number.POSITIVE_INFINITY) return new Float64Array(size).fill(cheapest);
  const limits = enough && new Float64Array(size);
  if (limits) for (let goal = 0; goal < size; goal += 1) limits[goal] = enough(goal);
  let before = answers.get(known);
  if (before === undefined) {
    before = [];
    answers.set(known, before);
  }
  for (const answer of before) {
    if (answer.isForward !== isForward) continue;
    const more = cheapest - answer.cheapest;
    if (isMoreBy(more, table, answer.table) && isMoreBy(more, limits, answer.limits))
      return more === 0 ? answer.least : answer.least.map((cost) => cost + more);
  }
  const least = overKnown(table, size, known, isForward, limits);
  if (before.length === ANSWERS) before.shift();
  before.push({ isForward, table, cheapest, limits, least });
  return least;
}

/** Whether every entry of one is that of the other and so many points more. */
function isMoreBy(more: number, one: Float64Array | undefined, other: Float64Array | undefined): boolean {
  if (one === undefined || other === undefined) return one === other;
  for (let at = 0; at < one.length; at += 1) if (one[at] !== (other[at] ?? 0) + more) return false;
  return one.length === other.length;
}

/** Without anything known: every goal asks the entries, cheapest first, until none can win. */
function overAll(
  table: Float64Array,
  size: number,
  step: (fromChoice: number, toChoice: number) => number,
  isForward: boolean,
  enough: ((goal: number) => number) | undefined,
): Float64Array {
  const order = sortedByCost(table);
  const least = new Float64Array(size);
  for (let goal = 0; goal < size; goal += 1) {
    const limit = enough === undefined ? Number.POSITIVE_INFINITY : enough(goal);
    let best = Number.POSITIVE_INFINITY;
    for (const entry of order) {
      const so = table[entry] ?? 0;
      if (so > limit) best = Math.min(best, so);
      if (so >= best) break;
      const cost = so + (isForward ? step(entry, goal) : step(goal, entry));
      if (cost < best) best = cost;
    }
    least[goal] = best;
  }
  return least;
}

function overKnown(
  table: Float64Array,
  size: number,
  known: KnownSteps,
  isForward: boolean,
  limits: Float64Array | undefined,
): Float64Array {
  const { cost: step, sourcesOf } = known;
  const least = new Float64Array(size).fill(Number.POSITIVE_INFINITY);
  const [given, goals] = isForward ? [known.from, known.to] : [known.to, known.from];
  const { order, costs, starts, ahead } = room;
  const bound = rankByClass(table, given, isForward ? undefined : sourcesOf);
  // The cheapest first, so that most of what comes later cannot win.
  for (const entry of bound.sort((one, other) => (table[one] ?? 0) - (table[other] ?? 0))) {
    const so = table[entry] ?? 0;
    const itsClass = given.of[entry] ?? 0;
    for (const source of sourcesOf(entry) ?? NONE) {
      const before = least[source] ?? 0;
      if (so + known.least(goals.of[source] ?? 0, itsClass) >= before) continue;
      const cost = so + step(source, entry, before - so);
      if (cost < before) least[source] = cost;
    }
  }
  // By a goal's class how many classes it may be reached from, once they are listed.
  const listed: number[] = [];
  for (let goal = 0; goal < size; goal += 1) {
    const limit = limits?.[goal] ?? Number.POSITIVE_INFINITY;
    const itsClass = goals.of[goal] ?? 0;
    let best = least[goal] ?? 0;
    const sources = isForward ? sourcesOf(goal) : undefined;
    if (sources !== undefined) {
      for (const source of sources) {
        const so = table[source] ?? 0;
        const possible = so + known.least(given.of[source] ?? 0, itsClass);
        if (possible >= best) continue;
        best = Math.min(best, possible > limit ? possible : so + step(source, goal, best - so));
      }
      least[goal] = best;
      continue;
    }
    listed[itsClass] ??= rankClasses(itsClass, given.count, known.least, isForward);
    const first = itsClass * CLASSES;
    for (let place = first; place < first + listed[itsClass]; place += 1) {
      const key = ahead[place] ?? 0;
      const one = key % CLASSES;
      const possibleInClass = (key - one) / CLASSES;
      if (possibleInClass > limit && possibleInClass < best) best = possibleInClass;
      if (possibleInClass >= best) break;
      const start = starts[one] ?? 0;
      const end = starts[one + 1] ?? 0;
      const leastStep = possibleInClass - (costs[start] ?? 0);
      for (let at = start; at < end; at += 1) {
        const so = costs[at] ?? 0;
        const possible = so + leastStep;
        if (possible > limit && possible < best) best = possible;
        if (possible >= best) break;
        const entry = order[at] ?? 0;
        const cost = so + (isForward ? step(entry, goal, best - so) : step(goal, entry, best - so));
        if (cost < best) best = cost;
      }
    }
    least[goal] = best;
  }
  return least;
}

const NONE: readonly number[] = [];

/** Columns are short and the costs in one near each other, so that class, cost and place fit one number that sorts by itself. */
const PLACES = 2 ** 12;
const COSTS = 2 ** 29;

/** More classes than a column has: a class and a bound fit one number that sorts by itself. */
const CLASSES = 2 ** 8;

/** Room that is used again by every question: asked one after another, none is answered while another is. */
const room = {
  keys: new Float64Array(PLACES),
  /** Choices that cost less than Infinity, class after class, within a class the cheapest first. */
  order: new Uint16Array(PLACES),
  /** What each of them costs. */
  costs: new Float64Array(PLACES),
  /** Where each class begins in the order; one more entry for the end. */
  starts: new Uint16Array(CLASSES + 1),
  /** For each class of goals the classes of the others, the least possible sum first, each with that sum as one number. */
  ahead: new Float64Array(CLASSES ** 2),
};

/** Lists choices in the room by class and cost. Left out, and handed back, are those that only a few can come before. */
function rankByClass(
  table: Float64Array,
  { count, of }: ChoiceClasses,
  sourcesOf: KnownSteps["sourcesOf"] | undefined,
): number[] {
  const { keys, order, costs, starts } = room;
  let cheapest = Number.POSITIVE_INFINITY;
  for (const cost of table) if (cost < cheapest) cheapest = cost;
  const bound: number[] = [];
  starts.fill(0, 0, count + 1);
  let listed = 0;
  for (let entry = 0; entry < table.length; entry += 1) {
    const cost = table[entry] ?? 0;
    if (cost === Number.POSITIVE_INFINITY) continue;
    if (sourcesOf?.(entry) !== undefined) {
      bound.push(entry);
      continue;
    }
    const one = of[entry] ?? 0;
    starts[one + 1] = (starts[one + 1] ?? 0) + 1;
    keys[listed] = (one * COSTS + (cost - cheapest)) * PLACES + entry;
    listed += 1;
  }
  for (let one = 1; one <= count; one += 1) starts[one] = (starts[one] ?? 0) + (starts[one - 1] ?? 0);
  sortSome(keys, 0, listed);
  for (let at = 0; at < listed; at += 1) {
    const entry = (keys[at] ?? 0) % PLACES;
    order[at] = entry;
    costs[at] = table[entry] ?? 0;
  }
  return bound;
}

/** Lists in the room, for a class of goals, the classes that a way may come from; how many they are. */
function rankClasses(
  goalClass: number,
  givenClasses: number,
  least: KnownSteps["least"],
  isForward: boolean,
): number {
  const { costs, starts, ahead } = room;
  const first = goalClass * CLASSES;
  let count = 0;
  for (let given = 0; given < givenClasses; given += 1) {
    const start = starts[given] ?? 0;
    if (start === (starts[given + 1] ?? 0)) continue;
    const step = isForward ? least(given, goalClass) : least(goalClass, given);
    if (step === Number.POSITIVE_INFINITY) continue;
    ahead[first + count] = ((costs[start] ?? 0) + step) * CLASSES + given;
    count += 1;
  }
  sortSome(ahead, first, count);
  return count;
}

/** So few numbers are sorted sooner by putting each in its place than by the engine. */
const FEW = 40;

/** Sorts some numbers of a row in ascending order. */
function sortSome(row: Float64Array, first: number, count: number): void {
  if (count > FEW) {
    row.subarray(first, first + count).sort();
    return;
  }
  for (let next = first + 1; next < first + count; next += 1) {
    const one = row[next] ?? 0;
    let at = next;
    for (; at > first && (row[at - 1] ?? 0) > one; at -= 1) row[at] = row[at - 1] ?? 0;
    row[at] = one;
  }
}

/** The choices that cost less than Infinity, cheapest first. */
function sortedByCost(table: Float64Array): readonly number[] {
  return [...table.keys()]
    .filter((entry) => (table[entry] ?? 0) < Number.POSITIVE_INFINITY)
    .sort((one, other) => (table[one] ?? 0) - (table[other] ?? 0));
}

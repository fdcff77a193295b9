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

/** A question about some steps and its answer, both less what the cheapest choice has cost so far. */
interface Answer {
  readonly isForward: boolean;
  readonly table: Float64Array;
  readonly limits: Float64Array | undefined;
  readonly least: Float64Array;
}

/** Answers kept for the same steps: a strain in its first and its second place, and before and after a wish. */
const ANSWERS = 4;

const answers = new WeakMap<KnownSteps, Answer[]>();

/**
 * Asks the steps, or remembers: what all choices have cost so far soon differs from one time that some measures
 * are played to another by the same number of points for all of them, and so does the answer.
 */
function rememberedSteps(
  given: Float64Array,
  size: number,
  known: KnownSteps,
  isForward: boolean,
  enough: ((goal: number) => number) | undefined,
): Float64Array {
  let cheapest = Number.POSITIVE_INFINITY;
  for (const cost of given) if (cost < cheapest) cheapest = cost;
  if (cheapest === Number.POSITIVE_INFINITY) return new Float64Array(size).fill(cheapest);
  const table = new Float64Array(given.length);
  for (let choice = 0; choice < given.length; choice += 1) table[choice] = (given[choice] ?? 0) - cheapest;
  const limits = enough && new Float64Array(size);
  if (limits) for (let goal = 0; goal < size; goal += 1) limits[goal] = enough(goal) - cheapest;
  const before = answers.get(known) ?? [];
  answers.set(known, before);
  let answer = before.find(
    (one) => one.isForward === isForward && isSame(one.table, table) && isSame(one.limits, limits),
  );
  if (answer === undefined) {
    answer = { isForward, table, limits, least: overKnown(table, size, known, isForward, limits) };
    if (before.length === ANSWERS) before.shift();
    before.push(answer);
  }
  const least = new Float64Array(size);
  for (let goal = 0; goal < size; goal += 1) least[goal] = (answer.least[goal] ?? 0) + cheapest;
  return least;
}

function isSame(one: Float64Array | undefined, other: Float64Array | undefined): boolean {
  if (one === undefined || other === undefined) return one === other;
  for (let at = 0; at < one.length; at += 1) if (one[at] !== other[at]) return false;
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
  const ranked = rankedByClass(table, given, isForward ? undefined : sourcesOf);
  if (!isForward) {
    // The cheapest first, so that most of what comes later cannot win.
    for (const entry of ranked.bound.sort((one, other) => (table[one] ?? 0) - (table[other] ?? 0))) {
      const so = table[entry] ?? 0;
      const itsClass = known.to.of[entry] ?? 0;
      for (const source of sourcesOf(entry) ?? NONE) {
        const before = least[source] ?? 0;
        if (so + known.least(known.from.of[source] ?? 0, itsClass) >= before) continue;
        const cost = so + step(source, entry, before - so);
        if (cost < before) least[source] = cost;
      }
    }
  }
  const ahead = goalOrders(ranked, goals, isForward ? known.least : (one, other) => known.least(other, one));
  const { order, costs, starts } = ranked;
  for (let goal = 0; goal < size; goal += 1) {
    const limit = limits?.[goal] ?? Number.POSITIVE_INFINITY;
    let best = least[goal] ?? 0;
    const sources = isForward ? sourcesOf(goal) : undefined;
    if (sources !== undefined) {
      const itsClass = goals.of[goal] ?? 0;
      for (const source of sources) {
        const so = table[source] ?? 0;
        const possible = so + known.least(given.of[source] ?? 0, itsClass);
        if (possible >= best) continue;
        best = Math.min(best, possible > limit ? possible : so + step(source, goal, best - so));
      }
      least[goal] = best;
      continue;
    }
    for (const key of ahead(goals.of[goal] ?? 0)) {
      const one = key % CLASSES;
      const bound = (key - one) / CLASSES;
      if (bound > limit && bound < best) best = bound;
      if (bound >= best) break;
      const start = starts[one] ?? 0;
      const end = starts[one + 1] ?? 0;
      const leastStep = bound - (costs[start] ?? 0);
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

/** Choices that cost less than Infinity, class after class, within a class the cheapest first. */
interface Ranked {
  readonly order: Uint16Array;
  /** What each of them costs. */
  readonly costs: Float64Array;
  /** Where each class begins in the order; one more entry for the end. */
  readonly starts: readonly number[];
  /** Choices left out, since only a few can come before them. */
  readonly bound: number[];
}

/** Columns are short and the costs in one near each other, so that class, cost and place fit one number that sorts by itself. */
const PLACES = 2 ** 12;
const COSTS = 2 ** 29;

/** More classes than a column has: a class and a bound fit one number that sorts by itself. */
const CLASSES = 2 ** 8;

/** Room that is used again by every question: asked one after another, none is answered while another is. */
const room = {
  keys: new Float64Array(PLACES),
  order: new Uint16Array(PLACES),
  costs: new Float64Array(PLACES),
  ahead: new Float64Array(CLASSES ** 2),
};

function rankedByClass(
  table: Float64Array,
  { count, of }: ChoiceClasses,
  sourcesOf: KnownSteps["sourcesOf"] | undefined,
): Ranked {
  const { keys, order, costs } = room;
  let cheapest = Number.POSITIVE_INFINITY;
  for (let entry = 0; entry < table.length; entry += 1) cheapest = Math.min(cheapest, table[entry] ?? 0);
  const bound: number[] = [];
  const starts: number[] = new Array(count + 1).fill(0);
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
  keys.subarray(0, listed).sort();
  for (let at = 0; at < listed; at += 1) {
    const entry = (keys[at] ?? 0) % PLACES;
    order[at] = entry;
    costs[at] = table[entry] ?? 0;
  }
  return { order, costs, starts, bound };
}

/** The choices that cost less than Infinity, cheapest first. */
function sortedByCost(table: Float64Array): readonly number[] {
  return [...table.keys()]
    .filter((entry) => (table[entry] ?? 0) < Number.POSITIVE_INFINITY)
    .sort((one, other) => (table[one] ?? 0) - (table[other] ?? 0));
}

/**
 * For a goal's class the classes it may be reached from, the least possible sum first, each with that sum as one
 * number; worked out when first asked.
 */
function goalOrders(
  { costs, starts }: Ranked,
  goals: ChoiceClasses,
  least: (givenClass: number, goalClass: number) => number,
): (goalClass: number) => Float64Array {
  const known: (Float64Array | undefined)[] = Array.from({ length: goals.count });
  return (goalClass) => {
    const before = known[goalClass];
    if (before !== undefined) return before;
    const keys = room.ahead.subarray(goalClass * CLASSES, (goalClass + 1) * CLASSES);
    let count = 0;
    for (let given = 0; given + 1 < starts.length; given += 1) {
      const start = starts[given] ?? 0;
      if (start === (starts[given + 1] ?? 0)) continue;
      const step = least(given, goalClass);
      if (step === Number.POSITIVE_INFINITY) continue;
      keys[count] = ((costs[start] ?? 0) + step) * CLASSES + given;
      count += 1;
    }
    const ahead = keys.subarray(0, count).sort();
    known[goalClass] = ahead;
    return ahead;
  };
}

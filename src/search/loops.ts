import { cheapestByElimination, costThroughKept, type KeptChoices } from "./bucket-elimination.js";
import { cheapestOver } from "./cheapest-step.js";
import { costOfWay, type Link, type PathProblem, type StepCost, type Way } from "./choice-graph.js";
import { choicesThatCost, firstOfEqual } from "./first-of-equal.js";
import {
  cheapestTreeWay,
  costsThrough,
  type LinkTree,
  rootsOf,
  spanningTree,
  type TreeCosts,
  throughRootsAlone,
  treeCosts,
} from "./tree-dp.js";

/**
 * The part of a problem that lies in loops or between two, with what hangs on it in the choices' own costs,
 * and the same part without the links that close its loops: a tree, which bounds it from below.
 */
export interface Loops {
  /** Columns of the whole problem. */
  readonly columns: readonly number[];
  readonly problem: PathProblem;
  readonly closing: readonly Link[];
  /** The tree, each closing link's least cost charged where it arrives. */
  readonly relaxed: PathProblem;
  readonly tree: LinkTree;
  readonly costs: TreeCosts;
}

/** undefined where nothing is repeated. */
export function loopsOf(problem: PathProblem, outer: LinkTree, { below }: TreeCosts): Loops | undefined {
  const columns = rootsOf(outer);
  const placeOf = new Map(columns.map((column, index) => [column, index]));
  const written = new Map<Link, Link>();
  for (const link of problem.links) {
    const [from, to] = [placeOf.get(link.from), placeOf.get(link.to)];
    if (from !== undefined && to !== undefined) written.set({ from, to }, link);
  }
  if (written.size === 0) return undefined;
  const inner: PathProblem = {
    sizes: columns.map((column) => problem.sizes[column] ?? 0),
    choiceCost: (column, choice) => below[columns[column] ?? 0]?.[choice] ?? 0,
    links: [...written.keys()],
    stepCost: (link) => problem.stepCost(written.get(link) ?? link),
    knownOf: (link) => problem.knownOf?.(written.get(link) ?? link),
  };
  const { tree, loops: closing } = spanningTree(inner);
  const relaxed = withLeastOf(inner, closing);
  return { columns, problem: inner, closing, relaxed, tree, costs: treeCosts(relaxed, tree) };
}

/** Every closing link costs something whatever is chosen before it; a link of a column with itself says just what. */
function withLeastOf(problem: PathProblem, closing: readonly Link[]): PathProblem {
  const charged = new Map<number, Float64Array>();
  for (const link of closing) {
    const least =
      link.from === link.to
        ? Float64Array.from({ length: problem.sizes[link.to] ?? 0 }, (_, choice) =>
            problem.stepCost(link)(choice, choice),
          )
        : cheapestOver(problem, link, new Float64Array(problem.sizes[link.from] ?? 0), true);
    const sum = charged.get(link.to);
    charged.set(link.to, sum === undefined ? least : sum.map((cost, choice) => cost + (least[choice] ?? 0)));
  }
  return {
    ...problem,
    choiceCost: (column, choice) => problem.choiceCost(column, choice) + (charged.get(column)?.[choice] ?? 0),
  };
}

/**
 * For every choice a lower bound of what the whole problem costs through it; beyond `most` any figure that
 * is itself beyond it.
 */
export const boundsWithin = ({ relaxed, tree, costs }: Loops, most: number): readonly Float64Array[] =>
  costsThrough(relaxed, tree, costs, throughRootsAlone(tree, costs), most);

/** The choices whose bound is no higher than a cost, in the order of their column. */
export const choicesWithin = (through: readonly Float64Array[], cost: number): KeptChoices =>
  through.map((column) => {
    const within: number[] = [];
    for (let choice = 0; choice < column.length; choice += 1)
      if ((column[choice] ?? 0) <= cost) within.push(choice);
    return within;
  });

/**
 * The cheapest choices in the loops: every choice whose bound lies above the cost of some whole way cannot be
 * part of a cheaper one and is dropped; what is left is searched whole. Of equal ways the one whose choices
 * are listed first, from the first column on, so that nothing hangs on what was dropped. undefined where no
 * way exists.
 */
export function cheapestInLoops(loops: Loops): readonly number[] | undefined {
  const { problem } = loops;
  const some = someWay(loops);
  if (some === undefined) return undefined;
  const { bounds } = some;
  const best = cheapestByElimination(problem, choicesWithin(bounds, some.cost));
  if (best === undefined) return undefined;
  const kept = choicesWithin(bounds, best.cost);
  if (kept.every((choices) => choices.length === 1)) return best.choices;
  const through = costThroughKept(problem, kept);
  const tied = kept.map((choices, column) => choicesThatCost(best.cost, choices, through[column]));
  return firstOfEqual(problem, tied);
}

/** Choices a column keeps for an incomplete search, which only has to find some way. */
const FIRST_BEAM = 6;

/** A whole way so little above the bound is near enough: few choices are left. */
const NEAR_ENOUGH = 100;

/** Times that the ends of the jumps are held fast anew. */
const MOST_ROUNDS = 6;

/** What a whole way costs, and for every choice the bound of what any costs through it, exact up to there. */
interface SomeWay {
  readonly cost: number;
  readonly bounds: readonly Float64Array[];
}

/**
 * A whole way that is cheap or even the cheapest: the relaxed tree's own; then, with what that chooses where
 * playing jumps to held fast, the cheapest for it, loops and all; then the same with what that chooses where
 * playing jumps from, and so on by turns while it helps (cutset conditioning: R. Dechter, Constraint
 * Processing, 2003, chapter 10).
 */
function someWay(loops: Loops): SomeWay | undefined {
  const { problem, tree, costs } = loops;
  let choices = cheapestTreeWay(loops.relaxed, tree, costs.below);
  if (choices === undefined) return undefined;
  const bound = costOfTree(loops, choices);
  let cost = costOfWay(problem, choices);
  const bounds = boundsWithin(loops, cost);
  let withoutGain = 0;
  for (let round = 0; round < MOST_ROUNDS && withoutGain < 2 && cost - bound > NEAR_ENOUGH; round += 1) {
    const held = conditioned(loops, round % 2 === 0 ? "to" : "from", choices, bounds, cost);
    const next = cheapestTreeWay(held, tree, treeCosts(held, tree).below);
    if (next === undefined) break;
    const better = costOfWay(problem, next);
    withoutGain = better < cost ? 0 : withoutGain + 1;
    cost = Math.min(cost, better);
    choices = next;
  }
  if (cost === Number.POSITIVE_INFINITY) cost = someWayAmongFew(problem, bounds)?.cost ?? cost;
  return cost < Number.POSITIVE_INFINITY ? { cost, bounds } : undefined;
}

/** What a way costs without the links that close loops, their least cost charged: no whole way costs less than the cheapest of these. */
function costOfTree({ relaxed, closing }: Loops, choices: readonly number[]): number {
  const isClosing = new Set(closing);
  return costOfWay({ ...relaxed, links: relaxed.links.filter((link) => !isClosing.has(link)) }, choices);
}

/** The tree with the choices at one end of every closing link held fast, so that the link becomes a cost of the other end's; of the other choices only those that can be part of a way that costs no more than `most`. */
function conditioned(
  { problem, closing }: Loops,
  end: "from" | "to",
  choices: readonly number[],
  bounds: readonly Float64Array[],
  most: number,
): PathProblem {
  const other = end === "to" ? "from" : "to";
  const held = new Map(closing.map((link) => [link[end], choices[link[end]] ?? 0]));
  const steps = new Map<number, { readonly cost: StepCost; readonly held: number }[]>();
  for (const link of closing) {
    const there = steps.get(link[other]) ?? [];
    steps.set(link[other], there);
    there.push({ cost: problem.stepCost(link), held: held.get(link[end]) ?? 0 });
  }
  return {
    ...problem,
    choiceCost: (column, choice) => {
      const only = held.get(column);
      if (only === undefined ? (bounds[column]?.[choice] ?? 0) > most : only !== choice)
        return Number.POSITIVE_INFINITY;
      let cost = problem.choiceCost(column, choice);
      for (const step of steps.get(column) ?? [])
        cost += end === "to" ? step.cost(choice, step.held) : step.cost(step.held, choice);
      return cost;
    },
  };
}

/** Some way among the choices of each column that have the lowest bounds, more of them until there is one. */
function someWayAmongFew(problem: PathProblem, bounds: readonly Float64Array[]): Way | undefined {
  const ranked = bounds.map((column) =>
    [...column.keys()].sort((a, b) => (column[a] ?? 0) - (column[b] ?? 0) || a - b),
  );
  const widest = Math.max(...problem.sizes);
  for (let beam = FIRST_BEAM; ; beam *= 3) {
    const some = cheapestByElimination(
      problem,
      ranked.map((column) => column.slice(0, beam)),
    );
    if (some !== undefined || beam >= widest) return some;
  }
}

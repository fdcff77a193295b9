import type { Link, PathProblem, Way } from "./choice-graph.js";

interface State {
  readonly cost: number;
  readonly choice: number;
  readonly before: State | undefined;
  /** Choices of the columns that later links still need, in column order. */
  readonly remembered: readonly number[];
}

/**
 * The cheapest way, column by column: of all ways that agree on every choice a later link still asks for,
 * only the cheapest is carried on. Without jumps that is one remembered column, the usual dynamic
 * programme; a jump back keeps the choice at its start in mind until its end is reached. Of equal ways it
 * finds one, whichever. undefined where no way exists.
 */
export function plainCheapestWay(
  problem: PathProblem,
  columns: readonly (readonly number[])[] = problem.sizes.map((size) => [...Array(size).keys()]),
): Way | undefined {
  const last = problem.sizes.length - 1;
  let frontier: readonly number[] = [];
  let states: readonly State[] = [{ cost: 0, choice: -1, before: undefined, remembered: [] }];
  for (let column = 0; column <= last; column += 1) {
    const links = problem.links
      .filter((link) => Math.max(link.from, link.to) === column)
      .map((link) => ({ ...link, stepCost: problem.stepCost(link) }));
    const next = [...frontier, column].filter((earlier) => isNeededAfter(problem.links, earlier, column));
    const best = new Map<string, State>();
    for (const state of states) {
      const choiceOf = (earlier: number) => state.remembered[frontier.indexOf(earlier)] ?? 0;
      for (const choice of columns[column] ?? []) {
        let cost = state.cost + problem.choiceCost(column, choice);
        for (const link of links) {
          if (cost === Number.POSITIVE_INFINITY) break;
          const from = link.from === column ? choice : choiceOf(link.from);
          const to = link.to === column ? choice : choiceOf(link.to);
          cost += link.stepCost(from, to);
        }
        if (cost === Number.POSITIVE_INFINITY) continue;
        const remembered = next.map((earlier) => (earlier === column ? choice : choiceOf(earlier)));
        const key = remembered.join(",");
        const rival = best.get(key);
        if (rival === undefined || cost < rival.cost)
          best.set(key, { cost, choice, before: state, remembered });
      }
    }
    states = [...best.values()];
    frontier = next;
  }
  const cheapest = states.reduce<State | undefined>(
    (found, state) => (found === undefined || state.cost < found.cost ? state : found),
    undefined,
  );
  return cheapest === undefined ? undefined : { choices: choicesOf(cheapest), cost: cheapest.cost };
}

const isNeededAfter = (links: readonly Link[], earlier: number, column: number): boolean =>
  links.some(
    (link) => (link.from === earlier || link.to === earlier) && Math.max(link.from, link.to) > column,
  );

function choicesOf(end: State): readonly number[] {
  const choices: number[] = [];
  for (let state: State | undefined = end; state?.before !== undefined; state = state.before)
    choices.push(state.choice);
  return choices.reverse();
}

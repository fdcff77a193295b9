import type { ArrangingProblem } from "../arranging/tune-problem.js";
import { linksByColumn } from "../search/choice-graph.js";
import type { Edit } from "./edit-wishes.js";

/**
 * The edits that leave no way on: going through the moments of the tune in order, wherever no grip follows from any
 * of those before it, the last edit up to there is at odds with what came before. Where a repeat finds no way back, it is
 * the last one before the jump. Without these edits there may be others that are at odds.
 */
export function editsAtOdds(problem: ArrangingProblem, edits: readonly Edit[]): ReadonlySet<Edit> {
  const { events, sizes, links, choiceCost, stepCost } = problem;
  const inOrder = edits.toSorted((one, other) => one.wish.at - other.wish.at);
  const atOdds = new Set<Edit>();
  const blameUpTo = (column: number): void => {
    const last = inOrder.findLast(({ wish }) => wish.at <= (events[column]?.onset ?? 0));
    if (last !== undefined) atOdds.add(last);
  };
  const linksAt = linksByColumn(problem);
  const possible: (readonly number[])[] = [];
  for (const [column, size] of sizes.entries()) {
    const all = Array.from({ length: size }, (_, choice) => choice);
    const before = (linksAt[column] ?? [])
      .filter(({ from, to }) => to === column && from < column)
      .map((link) => ({ step: stepCost(link), choices: possible[link.from] ?? [] }))
      // Nothing at all was possible there, which has been said.
      .filter(({ choices }) => choices.length > 0);
    const here = all.filter(
      (choice) =>
        Number.isFinite(choiceCost(column, choice)) &&
        before.every(({ step, choices }) => choices.some((from) => Number.isFinite(step(from, choice)))),
    );
    if (here.length === 0) blameUpTo(column);
    possible.push(here.length === 0 ? all : here);
  }
  for (const link of links) {
    if (link.from < link.to) continue;
    const step = stepCost(link);
    const isWayBack = possible[link.to]?.some((to) =>
      possible[link.from]?.some((from) => Number.isFinite(step(from, to))),
    );
    if (isWayBack === false) blameUpTo(link.from);
  }
  return atOdds;
}

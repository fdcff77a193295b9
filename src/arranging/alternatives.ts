import type { Alternative } from "../arrangement/arrangement.js";
import { exactCostThroughEach } from "../search/cheapest-path.js";
import type { Way } from "../search/choice-graph.js";
import { degreesHeard } from "./degrees-heard.js";
import type { Candidate } from "./grips/candidate.js";
import type { ArrangingProblem } from "./tune-problem.js";

/** Other ways that would cost the whole arrangement more than this are not worth a player's time. */
export const WORTH_SHOWING_POINTS = 300;

/**
 * For each event the best other ways to play it with what each would cost the whole arrangement more,
 * everything else chosen anew around it: exact, not an estimate. The same strings and frets with other
 * fingers count as one way.
 *
 * @param cheapest The cheapest way, from which extra costs count.
 * @param way The way chosen, which may cost more since it plays alike what comes again.
 */
export function alternativesTo(
  problem: ArrangingProblem,
  cheapest: Way,
  way: Way,
  count: number,
): readonly (readonly Alternative[])[] {
  if (count === 0) return problem.columns.map(() => []);
  const through = exactCostThroughEach(problem, cheapest, WORTH_SHOWING_POINTS);
  const most = cheapest.cost + WORTH_SHOWING_POINTS;
  return problem.columns.map((column, index) => {
    const costs = through[index] ?? new Float64Array();
    const costAt = (choice: number) => costs[choice] ?? 0;
    const seen = new Set([shapeOf(column.candidate(way.choices[index] ?? 0))]);
    const listed: Alternative[] = [];
    const near: number[] = [];
    for (let choice = 0; choice < costs.length; choice += 1) if (costAt(choice) <= most) near.push(choice);
    for (const choice of near.sort((a, b) => costAt(a) - costAt(b) || a - b)) {
      if (listed.length === count) break;
      const other = column.candidate(choice);
      if (seen.has(shapeOf(other))) continue;
      seen.add(shapeOf(other));
      listed.push({
        attack: other.attack,
        notes: other.strings.map((note, at) => ({
          ...note,
          finger: other.fingers[at] ?? 0,
          midi: other.midis[at] ?? 0,
        })),
        degrees: degreesHeard(other, problem.events[index]?.chord),
        extraCost: costAt(choice) - cheapest.cost,
      });
    }
    return listed;
  });
}

const shapeOf = (one: Candidate): string =>
  `${one.attack} ${one.strings.map((note) => `${note.string}:${note.fret}`).join(" ")}`;

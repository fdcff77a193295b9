import type { ArrangingProblem } from "../../src/arranging/tune-problem.js";
import { costOfWay, type PathProblem } from "../../src/search/choice-graph.js";

/** Cost of the best of all ways, each added up from nothing. */
export function bruteForce(problem: PathProblem): number {
  let best = Number.POSITIVE_INFINITY;
  const choices: number[] = [];
  const tryColumn = (column: number): void => {
    if (column === problem.sizes.length) {
      best = Math.min(best, costOfWay(problem, choices));
      return;
    }
    for (let choice = 0; choice < (problem.sizes[column] ?? 0); choice += 1) {
      choices[column] = choice;
      tryColumn(column + 1);
    }
  };
  tryColumn(0);
  return best;
}

/** The same problem with a handful of candidates in each column, spread over its kinds of attack. */
export function thinned(problem: ArrangingProblem, seed: number): PathProblem {
  const kept = problem.columns.map((column, index) => {
    const byAttack = ["single", "struck", "held", "under"].map((attack) => {
      const ofAttack = [...column.candidates.keys()].filter(
        (choice) => column.candidates[choice]?.attack === attack,
      );
      const leftByMelody = ofAttack.filter((choice) => column.candidates[choice]?.keepsMelody);
      return (seed + index) % 2 === 1 && leftByMelody.length > 0 ? leftByMelody : ofAttack;
    });
    return byAttack.flatMap((choices) =>
      choices.filter(
        (_, place) => place === (seed + index) % Math.max(1, Math.min(3, choices.length)) || place === 0,
      ),
    );
  });
  return {
    sizes: kept.map((choices) => choices.length),
    links: problem.links,
    choiceCost: (column, choice) => problem.choiceCost(column, kept[column]?.[choice] ?? 0),
    stepCost: (link) => {
      const stepCost = problem.stepCost(link);
      return (from, to) => stepCost(kept[link.from]?.[from] ?? 0, kept[link.to]?.[to] ?? 0);
    },
    knownOf: (link) => {
      const known = problem.knownOf?.(link);
      if (known === undefined) return undefined;
      const [from, to] = [kept[link.from] ?? [], kept[link.to] ?? []];
      return {
        cost: (one, other) => known.cost(from[one] ?? 0, to[other] ?? 0),
        from: { count: known.from.count, of: Uint8Array.from(from, (choice) => known.from.of[choice] ?? 0) },
        to: { count: known.to.count, of: Uint8Array.from(to, (choice) => known.to.of[choice] ?? 0) },
        least: known.least,
        sourcesOf: (choice) => {
          const sources = known.sourcesOf(to[choice] ?? 0);
          return sources?.map((source) => from.indexOf(source)).filter((at) => at >= 0);
        },
      };
    },
  };
}

/**
 * A search without music in it: one choice from each column, costs for choices and for pairs of choices
 * that follow one another in playing. Costs are whole numbers or Infinity.
 */
export interface PathProblem {
  /** Number of choices in each column, in time order. */
  readonly sizes: readonly number[];
  /** Cost of a choice by itself. */
  readonly choiceCost: (column: number, choice: number) => number;
  /** Pairs of columns that are played one after the other; from 3 to 4, or from the end of a strain back to its start. */
  readonly links: readonly Link[];
  /** Cost of the step that a link is, between a choice of its first column and one of its second. */
  readonly stepCost: (link: Link) => StepCost;
}

export type StepCost = (fromChoice: number, toChoice: number) => number;

export interface Link {
  readonly from: number;
  readonly to: number;
}

/** One choice from each column and what it costs in all. */
export interface Way {
  readonly choices: readonly number[];
  readonly cost: number;
}

/** What a way costs, added up afresh. */
export function costOfWay(problem: PathProblem, choices: readonly number[]): number {
  let cost = 0;
  choices.forEach((choice, column) => {
    cost += problem.choiceCost(column, choice);
  });
  for (const link of problem.links) {
    cost += problem.stepCost(link)(choices[link.from] ?? 0, choices[link.to] ?? 0);
  }
  return cost;
}

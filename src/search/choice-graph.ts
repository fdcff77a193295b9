/**
 * A search without music in it: one choice from each column, costs for choices and for pairs of choices
 * that follow one another in playing. Costs are whole numbers or Infinity, none below 0.
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
  /** What is known of a link's steps beforehand, so that most pairs need no look; undefined where nothing is. */
  readonly knownOf?: (link: Link) => KnownSteps | undefined;
}

export type StepCost = (fromChoice: number, toChoice: number) => number;

export interface Link {
  readonly from: number;
  readonly to: number;
}

/**
 * What is known of all steps over one link without looking at each: a promise about `stepCost` that a test
 * holds for every problem of a tune.
 */
export interface KnownSteps {
  /**
   * What a step costs where it is possible; asked only for choices that may come before the other. Where that
   * is no less than `enough`, any figure that is no less than it either.
   */
  readonly cost: (fromChoice: number, toChoice: number, enough?: number) => number;
  /** Classes of each side's choices, such as where on the neck the hand is. */
  readonly from: ChoiceClasses;
  readonly to: ChoiceClasses;
  /** The least that a step costs from a choice of one class to one of another. */
  readonly least: (fromClass: number, toClass: number) => number;
  /**
   * For a choice of the second column that only a few can come before (what rings on must have been struck):
   * those few. undefined for a choice that any may come before.
   */
  readonly sourcesOf: (toChoice: number) => readonly number[] | undefined;
}

export interface ChoiceClasses {
  readonly count: number;
  /** The class of each choice. */
  readonly of: Uint8Array;
}

/** One choice from each column and what it costs in all. */
export interface Way {
  readonly choices: readonly number[];
  readonly cost: number;
}

/** By column, the links it is one end of; a link to itself once. */
export function linksByColumn({ sizes, links }: PathProblem): readonly (readonly Link[])[] {
  const linksAt: Link[][] = sizes.map(() => []);
  for (const link of links) {
    linksAt[link.from]?.push(link);
    if (link.to !== link.from) linksAt[link.to]?.push(link);
  }
  return linksAt;
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

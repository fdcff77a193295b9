import type { Finger } from "../../guitar/grip.js";

/** How many grips are kept for each place of the melody, cheapest first. */
export interface GripsKept {
  readonly most: number;
  /** What is dearer by more points than the cheapest is left out, save for the first `atLeast`. */
  readonly within: number;
  readonly atLeast: number;
  /** Whether each finger that can take the melody note is a place of its own. */
  readonly isEachFinger: boolean;
}

/** Says of one place of the melody when no more grips need be found: all that will be kept are there. */
export class KeptSoFar {
  private readonly kept: GripsKept;
  /** What the grips found so far cost, the cheapest first, no more than are kept: of each finger, or of all. */
  private readonly costs: readonly number[][];

  constructor(kept: GripsKept, melodyFret: number) {
    this.kept = kept;
    this.costs = kept.isEachFinger && melodyFret > 0 ? [[], [], [], []] : [[]];
  }

  add(finger: Finger, cost: number): void {
    const costs = this.costs[this.costs.length === 1 ? 0 : finger - 1];
    if (costs === undefined) return;
    let at = costs.length;
    while (at > 0 && (costs[at - 1] ?? 0) > cost) at -= 1;
    costs.splice(at, 0, cost);
    if (costs.length > this.kept.most) costs.pop();
  }

  /** Whether nothing of so many points and more will be kept. */
  isWhole(points: number): boolean {
    const { most, atLeast, within } = this.kept;
    return this.costs.every((costs) => {
      const [cheapest = points] = costs;
      return isThere(costs, most, points) || (isThere(costs, atLeast, points) && points - cheapest > within);
    });
  }
}

/** Whether so many cost no more than some points. */
const isThere = (costs: readonly number[], count: number, points: number): boolean =>
  (costs[count - 1] ?? Number.POSITIVE_INFINITY) <= points;

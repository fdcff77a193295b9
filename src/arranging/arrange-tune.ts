import type { Arrangement } from "../arrangement/arrangement.js";
import { cheapestWay } from "../search/cheapest-path.js";
import type { Way } from "../search/choice-graph.js";
import type { Transposition } from "../song/transposition.js";
import type { Tune } from "../song/tune.js";
import { alternativesTo } from "./alternatives.js";
import type { TuneWishes } from "./arrange-settings.js";
import { arrangementOf } from "./build-arrangement.js";
import { COSTS, type CostTable } from "./costs/cost-table.js";
import type { TuneEvent } from "./events/tune-events.js";
import { isWishAt } from "./events/wishes-at.js";
import { sameAgain, type WayWithSameness } from "./same-again.js";
import { type ArrangingProblem, arrangingProblem } from "./tune-problem.js";
import { voicesLeftOut } from "./voices-left-out.js";
import { whySingle } from "./why-single.js";

/** The cheapest arrangement of a tune; undefined where not even single notes can be played. */
export function arrangeTune(
  tune: Tune,
  transposition: Transposition,
  wishes: TuneWishes,
  costs: CostTable = COSTS,
): Arrangement | undefined {
  const chosen = chosenWay(arrangingProblem(tune, wishes, costs), tune, wishes, { costs });
  return chosen && arrangementBy(chosen, tune, transposition, wishes, costs);
}

/** How a tune is played. */
export interface ChosenWay extends WayWithSameness {
  readonly problem: ArrangingProblem;
  /** The cheapest way, from which the chosen one differs where something comes again. */
  readonly cheapest: Way;
}

/** What else is known when a way is chosen. */
export interface ChoosingAsked {
  readonly costs?: CostTable;
  /** Points from which on nothing is wanted: what is sure to cost as much is not worked out. */
  readonly below?: number;
}

/** How a tune is played, before anything is said of it; undefined where not even single notes can be played. */
export function chosenWay(
  problem: ArrangingProblem,
  tune: Tune,
  wishes: TuneWishes,
  { costs = COSTS, below }: ChoosingAsked = {},
): ChosenWay | undefined {
  const cheapest = cheapestWay(problem, below);
  return cheapest && withSameness(problem, cheapest, tune, wishes, costs);
}

/** The same, given the cheapest way. */
export function withSameness(
  problem: ArrangingProblem,
  cheapest: Way,
  tune: Tune,
  { wishes }: TuneWishes,
  costs: CostTable = COSTS,
): ChosenWay {
  const isWishedAt = (event: TuneEvent) => wishes.some((wish) => isWishAt(wish, event.onset));
  return { problem, cheapest, ...sameAgain(problem, cheapest, tune, isWishedAt, costs.sameness) };
}

/** The arrangement that plays a tune so. */
export function arrangementBy(
  { problem, cheapest, way, playedOtherwise }: ChosenWay,
  tune: Tune,
  transposition: Transposition,
  wishes: TuneWishes,
  costs: CostTable = COSTS,
): Arrangement {
  const chosen = way.choices
    .map((choice, column) => problem.columns[column]?.candidate(choice))
    .filter((grip) => grip !== undefined);
  const arrangement = arrangementOf(tune, problem.events, chosen, {
    alternatives: () => alternativesTo(problem, cheapest, way, wishes.alternatives),
    whySingle: whySingle(problem, way, wishes, costs),
    voicesLeftOut: chosen.map((grip, index) => voicesLeftOut(problem, index, grip)),
  });
  return { ...arrangement, instrument: wishes.instrument, transposition, playedOtherwise, cost: way.cost };
}

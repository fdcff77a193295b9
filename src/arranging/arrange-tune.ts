import type { Arrangement } from "../arrangement/arrangement.js";
import { cheapestWay } from "../search/cheapest-path.js";
import type { Transposition } from "../song/transposition.js";
import type { Tune } from "../song/tune.js";
import { alternativesTo } from "./alternatives.js";
import type { TuneWishes } from "./arrange-settings.js";
import { arrangementOf } from "./build-arrangement.js";
import { COSTS, type CostTable } from "./costs/cost-table.js";
import type { TuneEvent } from "./events/tune-events.js";
import { isWishAt } from "./events/wishes-at.js";
import { sameAgain } from "./same-again.js";
import { arrangingProblem } from "./tune-problem.js";
import { voicesLeftOut } from "./voices-left-out.js";
import { whySingle } from "./why-single.js";

/**
 * The cheapest arrangement of a tune; undefined where not even single notes can be played.
 *
 * @param below Points from which on none is wanted: what is sure to cost as much is not worked out.
 */
export function arrangeTune(
  tune: Tune,
  transposition: Transposition,
  wishes: TuneWishes,
  costs: CostTable = COSTS,
  below = Number.POSITIVE_INFINITY,
): Arrangement | undefined {
  const problem = arrangingProblem(tune, wishes, costs);
  const cheapest = cheapestWay(problem, below);
  if (cheapest === undefined) return undefined;
  const isWishedAt = (event: TuneEvent) => wishes.wishes.some((wish) => isWishAt(wish, event.onset));
  const { way, playedOtherwise } = sameAgain(problem, cheapest, tune, isWishedAt, costs.sameness);
  const chosen = way.choices
    .map((choice, column) => problem.columns[column]?.candidate(choice))
    .filter((grip) => grip !== undefined);
  const arrangement = arrangementOf(tune, problem.events, chosen, {
    alternatives: alternativesTo(problem, cheapest, way, wishes.alternatives),
    whySingle: whySingle(problem, way, wishes, costs),
    voicesLeftOut: chosen.map((grip, index) => voicesLeftOut(problem, index, grip)),
  });
  return { ...arrangement, instrument: wishes.instrument, transposition, playedOtherwise, cost: way.cost };
}

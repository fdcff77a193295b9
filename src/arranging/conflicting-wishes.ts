import { ScoreError } from "../diagnostics.js";
import { cheapestWay } from "../search/cheapest-path.js";
import { measurePlace } from "../song/measure-place.js";
import type { Tune } from "../song/tune.js";
import type { Wish } from "../wishes/wishes.js";
import type { TuneWishes } from "./arrange-settings.js";
import { COSTS, type CostTable } from "./costs/cost-table.js";
import { arrangingProblem } from "./tune-problem.js";

/**
 * Says which of a player's wishes keep one another from being granted, where each can be granted by
 * itself and no way leads through all of them. Without wishes, or where they are not what is in the way,
 * nothing happens.
 *
 * @throws ScoreError naming every wish without which there is a way, or else the fewest found to give up
 */
export function refuseContradiction(tune: Tune, wishes: TuneWishes, costs: CostTable = COSTS): void {
  const all = wishes.wishes;
  const isThereAWay = (kept: readonly Wish[]) =>
    cheapestWay(arrangingProblem(tune, { ...wishes, wishes: kept }, costs)) !== undefined;
  if (all.length === 0 || !isThereAWay([])) return;
  const anyOf = all.filter((wish) => isThereAWay(all.filter((other) => other !== wish)));
  if (anyOf.length > 0) throw contradiction(tune, anyOf, "any one of them");
  const kept: Wish[] = [];
  for (const wish of all) if (isThereAWay([...kept, wish])) kept.push(wish);
  throw contradiction(
    tune,
    all.filter((wish) => !kept.includes(wish)),
    "all of them",
  );
}

/** Its place is that of the first wish it names. */
function contradiction(tune: Tune, wishes: readonly Wish[], which: string): ScoreError {
  const [first] = wishes;
  const names = wishes.map(({ wording }) => wording).join(", ");
  const isOne = wishes.length === 1;
  return new ScoreError({
    rule: "wishes-contradict",
    place: (first && measurePlace(tune, startOf(first))) ?? {},
    found: names,
    expected: "wishes that leave a way through the tune",
    message: isOne
      ? `${names} cannot be granted together with the other wishes; without it there is a way through the tune.`
      : `${names} cannot be granted together; without ${which} there is a way through the tune.`,
  });
}

const startOf = (wish: Wish): number => (wish.kind === "grip" || wish.kind === "play" ? wish.at : wish.from);

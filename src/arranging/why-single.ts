import type { WhySingle } from "../arrangement/arrangement.js";
import type { Way } from "../search/choice-graph.js";
import { soundingAt } from "../song/voices.js";
import type { TuneWishes } from "./arrange-settings.js";
import type { CostTable } from "./costs/cost-table.js";
import { travelMm } from "./costs/travel-cost.js";
import type { TuneEvent } from "./events/tune-events.js";
import { isWishAt } from "./events/wishes-at.js";
import { isDueInLean, isPassing, isQuick } from "./textures/texture.js";
import type { ArrangingProblem } from "./tune-problem.js";

/** For each event the reason why its melody note is alone; undefined where it is not. */
export function whySingle(
  problem: ArrangingProblem,
  way: Way,
  wishes: TuneWishes,
  costs: CostTable,
): readonly (WhySingle | undefined)[] {
  return problem.events.map((event, index) => {
    const column = problem.columns[index];
    if (column?.isSingle[way.choices[index] ?? 0] !== 1) return undefined;
    const isOfVoices = problem.textures[index] === "voices";
    if (event.chord === undefined && !isOfVoices) return "no-chord";
    if (isWished(event)) return "wished";
    if (isOfVoices && isTuneAlone(event)) return "no-voice";
    if (!isOfVoices && isPassing(event, costs)) return "passing-note";
    if (problem.textures[index] !== "lean" && !isOfVoices && isQuick(event, costs)) return "quick-note";
    if (problem.textures[index] === "lean" && !isDueInLean(event)) return "weak-beat";
    const withChord = [...column.supports.keys()].filter((choice) => column.supports[choice] !== 0);
    if (withChord.length === 0) return "no-grip";
    return withChord.some((choice) => isReached(index, choice)) ? "dearer" : "no-time";
  });

  function isTuneAlone({ onset }: TuneEvent): boolean {
    return soundingAt(problem.voices, onset).every(({ note }) => note.isMelody);
  }

  function isWished(event: TuneEvent): boolean {
    return wishes.wishes.some(
      (wish) => (wish.kind === "grip" || wish.kind === "play") && isWishAt(wish, event.onset),
    );
  }

  /** Whether a hand within its limit comes to a choice from the one made before it, and on to the one made after. */
  function isReached(index: number, choice: number): boolean {
    const choiceAt = (column: number) => (column === index ? choice : (way.choices[column] ?? 0));
    return problem.links
      .filter((link) => link.from === index || link.to === index)
      .every((link) => {
        const [from, to] = [problem.columns[link.from], problem.columns[link.to]];
        if (from === undefined || to === undefined) return true;
        const [before, after] = [choiceAt(link.from), choiceAt(link.to)];
        const isPossible = problem.stepCost(link)(before, after) < Number.POSITIVE_INFINITY;
        return isPossible && travelMm(from, before, to, after) <= wishes.shift * link.seconds;
      });
  }
}

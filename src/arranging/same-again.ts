import { chordIdentity } from "../harmony/chord-identity.js";
import { exactCostThroughEach } from "../search/cheapest-path.js";
import type { Way } from "../search/choice-graph.js";
import type { Tune } from "../song/tune.js";
import { WORTH_SHOWING_POINTS } from "./alternatives.js";
import type { SamenessWeights } from "./costs/cost-table.js";
import type { TuneEvent } from "./events/tune-events.js";
import { isPlayedAlike, type Passage, playedAlike, playedIn } from "./played-alike.js";
import type { ArrangingProblem } from "./tune-problem.js";

/** A way on which what comes again is played again, and where it is not. */
export interface WayWithSameness {
  readonly way: Way;
  /** Measures that repeat an earlier one and are played otherwise, by index. */
  readonly playedOtherwise: readonly number[];
}

/** A measure whose melody and chords stand elsewhere in the tune too. */
export interface Occurrence extends Passage {
  readonly measure: number;
}

/**
 * The cheapest way once more, with measures that have the same melody over the same chords played alike, fingers
 * included: a player learns a strain once. Of the ways that there are for such a measure the one is taken that most of
 * them can be played like; each may cost the whole arrangement so many points, and where that is not enough for all,
 * those that cost most are played otherwise after all: what stands before or after forbids it. What the player has
 * wishes for is neither copied nor changed.
 */
export function sameAgain(
  problem: ArrangingProblem,
  cheapest: Way,
  tune: Tune,
  isWishedAt: (event: TuneEvent) => boolean,
  { eachMeasure }: SamenessWeights,
): WayWithSameness {
  const isFree = ({ columns }: Passage) =>
    !columns.some((column) => {
      const event = problem.events[column];
      return event !== undefined && isWishedAt(event);
    });
  const again = repeatedMeasures(problem.events, tune)
    .map((group) => group.filter(isFree))
    .filter((group) => group.length > 1);
  if (eachMeasure === 0 || again.every((group) => isPlayedAlike(problem, cheapest, group)))
    return { way: cheapest, playedOtherwise: playedOtherwise(problem, cheapest, again) };
  const known = {
    through: exactCostThroughEach(problem, cheapest, WORTH_SHOWING_POINTS),
    near: cheapest.cost + WORTH_SHOWING_POINTS,
  };
  const way = playedAlike(problem, cheapest, again, eachMeasure, known);
  return { way, playedOtherwise: playedOtherwise(problem, way, again) };
}

/** Measures by what they have in common: notes and chords at the same places; in the order of the tune. */
function repeatedMeasures(events: readonly TuneEvent[], tune: Tune): readonly (readonly Occurrence[])[] {
  const groups = new Map<string, Occurrence[]>();
  let next = 0;
  for (const { index, start, length } of tune.measures) {
    const columns: number[] = [];
    let name = `${length}`;
    for (; next < events.length && (events[next]?.onset ?? 0) < start + length; next += 1) {
      const event = events[next];
      if (event === undefined) continue;
      columns.push(next);
      const chord = event.chord === undefined ? "" : chordIdentity(event.chord);
      name += ` ${event.onset - start} ${event.note?.midi} ${event.isNoteOnset} ${event.end - event.onset} ${chord}`;
    }
    if (columns.length === 0) continue;
    const group = groups.get(name) ?? [];
    group.push({ measure: index, columns });
    groups.set(name, group);
  }
  return [...groups.values()];
}

function playedOtherwise(
  problem: ArrangingProblem,
  way: Way,
  groups: readonly (readonly Occurrence[])[],
): readonly number[] {
  return groups
    .flatMap((group) => {
      const [first] = group.map((occurrence) => playedIn(problem, way, occurrence));
      return group.filter((occurrence) => playedIn(problem, way, occurrence) !== first);
    })
    .map(({ measure }) => measure)
    .sort((one, other) => one - other);
}

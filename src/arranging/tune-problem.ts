import { ScoreError } from "../diagnostics.js";
import type { PathProblem } from "../search/choice-graph.js";
import { measurePlace } from "../song/measure-place.js";
import type { Tune } from "../song/tune.js";
import type { TuneWishes } from "./arrange-settings.js";
import type { Candidate } from "./candidate.js";
import { columnsFor } from "./candidates/columns.js";
import { grantWishes } from "./candidates/wished-grips.js";
import { COSTS, type CostTable } from "./costs/cost-table.js";
import { isTiring, moveCost } from "./costs/move-cost.js";
import { worthHolding } from "./costs/release-cost.js";
import { keepsMelody, keepsSupports, ringsFromBefore } from "./costs/sustain.js";
import { type TextureName, textureNamed, withChordAsked } from "./textures/texture.js";
import { type EventLink, eventLinks, type TuneEvent, tuneEvents } from "./tune-events.js";
import {
  isAvoidedAt,
  isChordAskedAt,
  ownMoments,
  refuseWishesForNothing,
  textureNameAt,
} from "./wishes-at.js";

/** Seconds too short to rest in. */
const A_MOMENT = 0.01;

/** Everything the cheapest way is searched in. */
export interface ArrangingProblem extends PathProblem {
  readonly events: readonly TuneEvent[];
  /** The texture in force at each event. */
  readonly textures: readonly TextureName[];
  readonly links: readonly EventLink[];
  readonly columns: readonly (readonly Candidate[])[];
}

/**
 * The search for a tune that already lies where it will be played.
 *
 * @throws ScoreError where a wish cannot be granted
 */
export function arrangingProblem(tune: Tune, wishes: TuneWishes, costs: CostTable = COSTS): ArrangingProblem {
  const events = tuneEvents(tune, wishes.tempo, wishes.rests, ownMoments(wishes.wishes));
  refuseWishesForNothing(events, wishes.wishes, tune);
  const textures = events.map((event) => textureNameAt(event, wishes));
  const textureAt = (event: TuneEvent) => {
    const texture = textureNamed(textures[event.index] ?? wishes.texture, costs);
    return isChordAskedAt(event, wishes.wishes) ? withChordAsked(texture, costs) : texture;
  };
  const columns = columnsFor(
    events,
    {
      board: wishes,
      notes: wishes.notes,
      avoidedAt: (event) => wishes.wishes.filter((wish) => isAvoidedAt(wish, event.onset)),
      textureAt,
      asWished: (event, candidates) =>
        withPlace(tune, event, () => grantWishes(event, candidates, wishes.wishes, wishes.instrument, costs)),
    },
    costs,
  );
  const links = eventLinks(tune, events, wishes.tempo);
  const secondsOf = new Map<unknown, number>(links.map((link) => [link, link.seconds]));
  const tooFast = textures.map((texture) => costs.move.tooFast[texture]);
  const isMissedAt = events.map(
    (event) => event.mayBeHeldInto && !event.isChordChange && textureAt(event).isMissed(event),
  );
  const worth = columns.map((column, index) =>
    column.map((one) => worthHolding(one.degrees, events[index]?.chord, costs.voicing)),
  );
  const tires = columns.map((column) => column.map(isTiring));
  return {
    events,
    textures,
    columns,
    sizes: columns.map((column) => column.length),
    links,
    choiceCost: (column, choice) => columns[column]?.[choice]?.cost ?? Number.POSITIVE_INFINITY,
    stepCost: (link) => {
      const earlier = columns[link.from] ?? [];
      const later = columns[link.to] ?? [];
      const limit = { mmPerSecond: wishes.shift, tooFast: tooFast[link.to] ?? 0 };
      const seconds = secondsOf.get(link) ?? 0;
      const isNext = link.to === link.from + 1;
      const event = events[link.to];
      const ringsOn = isNext && event?.note !== undefined && !event.isNoteOnset;
      const isMissed = isNext && isMissedAt[link.to] === true;
      const sounding = events[link.from]?.seconds ?? 0;
      const barreUnrested =
        sounding < seconds - A_MOMENT ? 0 : Math.round(seconds * costs.move.barreUnrestedEachSecond);
      return (fromChoice, toChoice) => {
        const from = earlier[fromChoice];
        const to = later[toChoice];
        if (from === undefined || to === undefined) return Number.POSITIVE_INFINITY;
        if (ringsOn && !keepsMelody(from, to)) return Number.POSITIVE_INFINITY;
        if (ringsFromBefore(to) && !(isNext && keepsSupports(from, to))) return Number.POSITIVE_INFINITY;
        const isLetGo = to.attack === "held" || (to.attack === "single" && isMissed);
        const ringing = worth[link.from]?.[fromChoice] ?? 0;
        const letGo = isLetGo ? Math.max(0, ringing - (worth[link.to]?.[toChoice] ?? 0)) : 0;
        const tired = tires[link.from]?.[fromChoice] && tires[link.to]?.[toChoice] ? barreUnrested : 0;
        return letGo + tired + moveCost(from, to, seconds, costs.move, limit);
      };
    },
  };
}

/** What is worked out for an event, or its error with the event's place. */
function withPlace<Result>(tune: Tune, { onset }: TuneEvent, work: () => Result): Result {
  try {
    return work();
  } catch (error) {
    throw error instanceof ScoreError ? error.at(measurePlace(tune, onset) ?? {}) : error;
  }
}

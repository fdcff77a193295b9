import { ScoreError } from "../diagnostics.js";
import type { Instrument } from "../guitar/instrument.js";
import { measurePlace } from "../song/measure-place.js";
import type { Tune } from "../song/tune.js";
import { alternativesTo } from "./alternatives.js";
import type { Arrangement, Transposition } from "./arrangement.js";
import { arrangementOf } from "./arrangement-of.js";
import { type Candidate, isRingingOn, melodyFinger, melodyString, supportCount } from "./candidate.js";
import { cheapestWay } from "./cheapest-path.js";
import { columnsFor } from "./columns.js";
import { COSTS, type CostTable } from "./cost-table.js";
import { grantWishes } from "./granted-wishes.js";
import { moveCost } from "./moves.js";
import type { PathProblem } from "./path-problem.js";
import { type TextureName, textureNamed, withChordAsked } from "./texture.js";
import { type EventLink, eventLinks, type TuneEvent, tuneEvents } from "./tune-events.js";
import { whySingle } from "./why-single.js";
import type { AvoidWish, TextureWish, Wish } from "./wishes.js";
import { worthHolding } from "./worth-holding.js";

export interface TuneWishes {
  readonly instrument: Instrument;
  /** Strings the melody may use, 1 the highest. */
  readonly melodyStrings: readonly number[];
  readonly texture: TextureName;
  /** Notes in a grip, melody included. */
  readonly notes: "auto" | 3 | 4;
  /** Whether a chord change in a rest of the melody is struck. */
  readonly rests: "silent" | "struck";
  /** Fastest travel of the hand, mm a second. */
  readonly shift: number;
  /** Quarter notes a minute in place of the tune's own. */
  readonly tempo: number | undefined;
  /** The player's own wishes, in the order given. */
  readonly wishes: readonly Wish[];
  /** How many other ways to play each event are worked out. */
  readonly alternatives: number;
}

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
      return (fromChoice, toChoice) => {
        const from = earlier[fromChoice];
        const to = later[toChoice];
        if (from === undefined || to === undefined) return Number.POSITIVE_INFINITY;
        if (ringsOn && !keepsMelody(from, to)) return Number.POSITIVE_INFINITY;
        if (ringsFromBefore(to) && !(isNext && keepsSupports(from, to))) return Number.POSITIVE_INFINITY;
        const isLetGo = to.attack === "held" || (to.attack === "single" && isMissed);
        const ringing = worth[link.from]?.[fromChoice] ?? 0;
        const letGo = isLetGo ? Math.max(0, ringing - (worth[link.to]?.[toChoice] ?? 0)) : 0;
        return letGo + moveCost(from, to, seconds, costs.move, limit);
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

const isAvoidedAt = (wish: Wish, tick: number): wish is AvoidWish =>
  wish.kind === "avoid" && wish.from <= tick && tick < wish.to;

/** The texture in force at an event: the last wish that covers it, or the one for the whole tune. */
function textureNameAt({ onset }: TuneEvent, { wishes, texture }: TuneWishes): TextureName {
  const covers = (wish: Wish): wish is TextureWish =>
    wish.kind === "texture" && wish.from <= onset && onset < wish.to;
  return wishes.findLast(covers)?.texture ?? texture;
}

const isChordAskedAt = ({ onset }: TuneEvent, wishes: readonly Wish[]): boolean =>
  wishes.some((wish) => wish.kind === "play" && wish.as === "chord" && wish.at === onset);

/** Moments that the player adds to those of the tune. */
export const ownMoments = (wishes: readonly Wish[]): readonly number[] =>
  wishes.flatMap((wish) => (wish.kind === "grip" && wish.isOwnMoment ? [wish.at] : []));

/** A wish for a moment at which nothing is struck is an error, not a wish overlooked. */
function refuseWishesForNothing(events: readonly TuneEvent[], wishes: readonly Wish[], tune: Tune): void {
  for (const wish of wishes) {
    if (wish.kind !== "grip" && wish.kind !== "play") continue;
    if (events.some((event) => event.onset === wish.at)) continue;
    const nearest = events.toSorted((a, b) => Math.abs(a.onset - wish.at) - Math.abs(b.onset - wish.at))[0];
    const place = nearest && measurePlace(tune, nearest.onset);
    const there = place === undefined ? "nothing" : `measure ${place.measure}, beat ${place.beat}`;
    throw new ScoreError({
      rule: "wish-for-nothing",
      place: measurePlace(tune, wish.at) ?? {},
      found: "a moment at which no melody note and no chord change begins",
      expected: there,
      message: `${wish.wording} is for a moment at which nothing begins; the nearest is ${there}.`,
    });
  }
}

/** The cheapest arrangement of a tune; undefined where not even single notes can be played. */
export function arrangeTune(
  tune: Tune,
  transposition: Transposition,
  wishes: TuneWishes,
  costs: CostTable = COSTS,
): Arrangement | undefined {
  const problem = arrangingProblem(tune, wishes, costs);
  const way = cheapestWay(problem);
  if (way === undefined) return undefined;
  const chosen = way.choices
    .map((choice, column) => problem.columns[column]?.[choice])
    .filter((grip) => grip !== undefined);
  const arrangement = arrangementOf(tune, problem.events, chosen, {
    alternatives: alternativesTo(problem, way, wishes.alternatives),
    whySingle: whySingle(problem, way, wishes, costs),
  });
  return { ...arrangement, instrument: wishes.instrument, transposition, cost: way.cost };
}

/** The melody note rings on: same string, fret and finger. */
function keepsMelody(from: Candidate, to: Candidate): boolean {
  const before = melodyString(from);
  const after = melodyString(to);
  const isSamePlace = before?.string === after?.string && before?.fret === after?.fret;
  return isSamePlace && melodyFinger(from) === melodyFinger(to);
}

const ringsFromBefore = (grip: Candidate): boolean =>
  grip.attack === "held" || grip.heldStrings !== undefined;

/** Every supporting note of the second grip that rings on already sounds in the first, under the same finger. */
function keepsSupports(from: Candidate, to: Candidate): boolean {
  for (let index = 0; index < supportCount(to); index += 1) {
    const note = to.strings[index];
    if (!isRingingOn(to, note?.string)) continue;
    let isThere = false;
    for (let other = 0; other < supportCount(from) && !isThere; other += 1) {
      const earlier = from.strings[other];
      isThere =
        earlier?.string === note?.string &&
        earlier?.fret === note?.fret &&
        from.fingers[other] === to.fingers[index];
    }
    if (!isThere) return false;
  }
  return true;
}

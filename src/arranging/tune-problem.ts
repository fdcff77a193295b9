import { ScoreError } from "../diagnostics.js";
import { chordIdentity } from "../harmony/chord-identity.js";
import type { TextureName } from "../options/options.js";
import type { Link, PathProblem } from "../search/choice-graph.js";
import { measurePlace } from "../song/measure-place.js";
import { type EventLink, eventLinks } from "../song/playing-links.js";
import type { Tune } from "../song/tune.js";
import { soundingAt, type Voice } from "../song/voices.js";
import type { TuneWishes } from "./arrange-settings.js";
import { withBass } from "./bass/with-bass.js";
import { boardMemory } from "./candidates/board-memory.js";
import { columnsInTurn } from "./candidates/columns.js";
import { leastCostUnder } from "./candidates/least-cost.js";
import { sungMemory } from "./candidates/sung-memory.js";
import { sungPitches } from "./candidates/sung-placements.js";
import { grantWishes } from "./candidates/wished-grips.js";
import { COSTS, type CostTable } from "./costs/cost-table.js";
import { withRightHand } from "./costs/right-hand-cost.js";
import { nameOfTerms, type Steps, transitionSteps, transitionTerms } from "./costs/transition-cost.js";
import { endedWithVoices, sungMoments } from "./events/sung-moments.js";
import { type TuneEvent, tuneEvents } from "./events/tune-events.js";
import {
  isAvoidedAt,
  isChordAskedAt,
  isWishAt,
  ownMoments,
  refuseWishesForNothing,
  textureNameAt,
} from "./events/wishes-at.js";
import { type PackedColumn, packedColumn } from "./grips/packed-column.js";
import { textureNamed, withChordAsked } from "./textures/texture.js";

/** Everything the cheapest way is searched in. */
export interface ArrangingProblem extends PathProblem {
  readonly events: readonly TuneEvent[];
  /** The texture in force at each event. */
  readonly textures: readonly TextureName[];
  /** The lines of an ensemble, or of a tune with a bass under it; none of a tune alone. */
  readonly voices: readonly Voice[];
  readonly links: readonly EventLink[];
  readonly columns: readonly PackedColumn[];
}

/**
 * The search for a tune that already lies where it will be played.
 *
 * @throws ScoreError where a wish cannot be granted
 */
export function arrangingProblem(tune: Tune, wishes: TuneWishes, costs: CostTable = COSTS): ArrangingProblem {
  const { problem, addColumns } = problemInMaking(tune, wishes, costs);
  addColumns(Number.POSITIVE_INFINITY);
  return problem;
}

/** A problem that is made column by column. */
export interface ProblemInMaking {
  /** Holds the columns that are there: a step can be asked for as soon as it has both of its own. */
  readonly problem: ArrangingProblem;
  /** Adds so many columns, or what there is left; says whether all are there. */
  readonly addColumns: (most: number) => boolean;
  /** What the columns that are not there yet cost at least. */
  readonly leastOfRest: () => number;
}

/**
 * The same, no column of it made yet.
 *
 * @throws ScoreError where a wish cannot be granted; where that depends on a column, when it is made
 */
export function problemInMaking(given: Tune, asked: TuneWishes, table: CostTable = COSTS): ProblemInMaking {
  const costs = withRightHand(table, asked.rightHand);
  const tune = withBass(given, asked.bass, asked.instrument);
  const wishes: TuneWishes = asked.bass === "none" ? asked : { ...asked, texture: "voices" };
  // A player's own moment may be one of the voices: a moment is one event.
  const moments = [...new Set([...ownMoments(wishes.wishes), ...sungMoments(tune, wishes)])];
  const events = endedWithVoices(
    tuneEvents(tune, wishes.tempo, wishes.rests, moments),
    tune,
    (event) => textureNameAt(event, wishes) === "voices",
  );
  refuseWishesForNothing(events, wishes.wishes, tune);
  const textures = events.map((event) => textureNameAt(event, wishes));
  const textureAt = (event: TuneEvent) => {
    const texture = textureNamed(textures[event.index] ?? wishes.texture, costs, wishes.restrike);
    return isChordAskedAt(event, wishes.wishes) ? withChordAsked(texture, costs) : texture;
  };
  const sungAt = (event: TuneEvent) =>
    textures[event.index] === "voices" ? soundingAt(tune.voices ?? [], event.onset) : undefined;
  const memory = boardMemory(wishes, costs);
  memory.makeRoom(2 * events.length);
  const ofVoices = sungMemory(given, memory);
  const columns: PackedColumn[] = [];
  const sizes: number[] = [];
  const inTurn = columnsInTurn(
    events,
    {
      board: wishes,
      notes: wishes.notes,
      avoidedAt: (event) => wishes.wishes.filter((wish) => isAvoidedAt(wish, event.onset)),
      textureAt,
      sungAt,
      asWished: (event, column) => {
        const here = wishes.wishes.filter((wish) => isWishAt(wish, event.onset));
        if (here.length === 0) return column;
        const sung = sungPitches(sungAt(event) ?? [], event.onset);
        const granted = () =>
          packedColumn(grantWishes(event, column.candidates, here, wishes.instrument, costs, sung));
        // The same object where nothing has changed: what follows hangs on it.
        const { note, isNoteOnset, chord } = event;
        const sounding = [note?.midi, isNoteOnset, chord && chordIdentity(chord), JSON.stringify(sung)];
        return withPlace(tune, event, () => memory.columns([column, ...here, ...sounding], granted));
      },
    },
    costs,
    memory,
    ofVoices,
  );
  const links = eventLinks(tune, events, wishes.tempo);
  const linkOf = new Map<Link, EventLink>(links.map((link) => [link, link]));
  const isMissedAt = events.map(
    (event) => event.mayBeHeldInto && !event.isChordChange && textureAt(event).isMissed(event),
  );
  const steps = new Map<Link, Steps>();
  const stepsOver = (link: Link): Steps => {
    const before = steps.get(link);
    if (before !== undefined) return before;
    const found = stepsBetween(link);
    steps.set(link, found);
    return found;
  };
  const problem: ArrangingProblem = {
    sizes,
    links,
    choiceCost: (column, choice) => columns[column]?.cost[choice] ?? Number.POSITIVE_INFINITY,
    stepCost: (link) => stepsOver(link).cost,
    knownOf: (link) => stepsOver(link).known,
    events,
    textures,
    columns,
    voices: tune.voices ?? [],
  };
  const addColumns = (most: number): boolean => {
    for (let added = 0; added < most && columns.length < events.length; added += 1) {
      const { done, value } = inTurn.next();
      if (done) break;
      columns.push(value);
      sizes.push(value.size);
    }
    return columns.length === events.length;
  };
  let restFrom: Float64Array | undefined;
  const leastOfRest = (): number => {
    restFrom ??= leastFromEachOn(events, wishes, costs);
    return restFrom[columns.length] ?? 0;
  };
  return { problem, addColumns, leastOfRest };

  function stepsBetween(link: Link): Steps {
    const playing = linkOf.get(link);
    const from = events[link.from];
    const to = events[link.to];
    const [earlier, later] = [columns[link.from], columns[link.to]];
    if (!from || !to || !playing || !earlier || !later) throw new Error("a link of another tune");
    const terms = transitionTerms(
      playing,
      from,
      to,
      {
        texture: textures[link.to] ?? wishes.texture,
        mmPerSecond: wishes.shift,
        isMissed: isMissedAt[link.to] === true,
      },
      costs,
    );
    const work = () => transitionSteps(earlier, later, terms, costs);
    // What an ensemble sings has columns of its own in every tune.
    const before = earlier.isSung || later.isSung ? ofVoices.steps : memory.steps;
    return before([earlier, later, nameOfTerms(terms)], work);
  }
}

/** What the events from each one on cost at least, and 0 for the end; a player's own grip costs what it costs. */
function leastFromEachOn(events: readonly TuneEvent[], wishes: TuneWishes, costs: CostTable): Float64Array {
  const under = new Map<number, number>();
  const leastFrom = new Float64Array(events.length + 1);
  for (let index = events.length - 1; index >= 0; index -= 1) {
    const { note, onset } = events[index] ?? { onset: 0 };
    const isFree = note !== undefined && !wishes.wishes.some((wish) => isWishAt(wish, onset));
    const least = isFree ? (under.get(note.midi) ?? leastCostUnder(wishes, note.midi, costs)) : 0;
    if (isFree) under.set(note.midi, least);
    leastFrom[index] = (leastFrom[index + 1] ?? 0) + least;
  }
  return leastFrom;
}

/** What is worked out for an event, or its error with the event's place. */
function withPlace<Result>(tune: Tune, { onset }: TuneEvent, work: () => Result): Result {
  try {
    return work();
  } catch (error) {
    throw error instanceof ScoreError ? error.at(measurePlace(tune, onset) ?? {}) : error;
  }
}

import type { Arrangement } from "../arrangement/arrangement.js";
import type { TuneWishes } from "../arranging/arrange-settings.js";
import { arrangementBy, type ChosenWay, withSameness } from "../arranging/arrange-tune.js";
import { problemInMaking } from "../arranging/tune-problem.js";
import { ScoreError } from "../diagnostics.js";
import { cheapestWay, leastOfWays } from "../search/cheapest-path.js";
import { leastSoFar } from "../search/least-so-far.js";
import { type Transposition, transposedTune } from "../song/transposition.js";
import type { Tune } from "../song/tune.js";
import { fittingTranspositions } from "./choose-key.js";

/** Events by whose cost it is guessed where a tune lies well. */
const FIRST_EVENTS = 16;

/** Events that are gone through between two looks at what a place costs so far. */
const EVENTS_AT_ONCE = 8;

/** A key and octave in which the tune may be played. */
interface Place {
  readonly transposition: Transposition;
  readonly tune: Tune;
  readonly work: Generator<WorkedOut, undefined>;
  /** As far as the work has come; undefined where the tune cannot be played. */
  so: WorkedOut | undefined;
  /** Why not, where that is a wish that cannot be granted. */
  refused?: ScoreError;
}

interface WorkedOut {
  /** What the tune costs here at least. */
  readonly least: number;
  /** All events have been gone through. */
  readonly isWhole: boolean;
  /** How the tune is played, once nothing is left to work out: it costs the least. */
  readonly chosen?: ChosenWay;
}

/**
 * The tune arranged in the first place of the survey: the key, and the octave, that costs the hand least, of equal ones
 * the nearest. Worked on is always the place that costs least as far as it is known, so that one which is surely dearer
 * than the best is left as it is.
 *
 * @throws ScoreError where wishes can be granted nowhere
 */
export function bestKey(tune: Tune, wishes: TuneWishes): Arrangement | undefined {
  const places = fittingTranspositions(tune, wishes).map((transposition): Place => {
    const moved = transposedTune(tune, transposition);
    return { transposition, tune: moved, work: workOf(moved, wishes), so: { least: 0, isWhole: false } };
  });
  for (const place of places) workOn(place);
  for (let place = cheapestOf(places); place?.so !== undefined; place = cheapestOf(places)) {
    const { chosen } = place.so;
    if (chosen !== undefined) return arrangementBy(chosen, place.tune, place.transposition, wishes);
    // Its events in one go where they may be needed, so that what comes again is met while it is remembered.
    const most = cheapestOf(places.filter(({ so }) => so?.isWhole))?.so?.least ?? Number.POSITIVE_INFINITY;
    do workOn(place);
    while (place.so?.isWhole === false && place.so.least <= most);
  }
  const refusal = places.find(({ refused }) => refused !== undefined)?.refused;
  if (refusal !== undefined) throw refusal;
  return undefined;
}

/** Of equal ones the first. */
function cheapestOf(places: readonly Place[]): Place | undefined {
  let cheapest: Place | undefined;
  for (const place of places)
    if (place.so !== undefined && (cheapest?.so === undefined || place.so.least < cheapest.so.least))
      cheapest = place;
  return cheapest;
}

function workOn(place: Place): void {
  try {
    place.so = place.work.next().value;
  } catch (error) {
    if (!(error instanceof ScoreError)) throw error;
    place.so = undefined;
    place.refused = error;
  }
}

/** What is worked out of a tune that lies where it would be played, step by step: each raises what it costs at least. */
function* workOf(tune: Tune, wishes: TuneWishes): Generator<WorkedOut, undefined> {
  const { problem, addColumns, leastOfRest } = problemInMaking(tune, wishes);
  const leastOfColumns = leastSoFar(problem);
  for (let isWhole = false, count = FIRST_EVENTS; !isWhole; count = EVENTS_AT_ONCE) {
    isWhole = addColumns(count);
    yield { least: leastOfColumns() + leastOfRest(), isWhole };
  }
  yield { least: leastOfWays(problem), isWhole: true };
  const cheapest = cheapestWay(problem);
  if (cheapest === undefined) return undefined;
  yield { least: cheapest.cost, isWhole: true };
  const chosen = withSameness(problem, cheapest, tune, wishes);
  yield { least: chosen.way.cost, isWhole: true, chosen };
  return undefined;
}

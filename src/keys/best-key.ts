import type { Arrangement } from "../arrangement/arrangement.js";
import type { TuneWishes } from "../arranging/arrange-settings.js";
import { arrangementBy, type ChosenWay, chosenWay } from "../arranging/arrange-tune.js";
import { type ProblemInMaking, problemInMaking } from "../arranging/tune-problem.js";
import { ScoreError } from "../diagnostics.js";
import { leastSoFar } from "../search/least-so-far.js";
import { type Transposition, transposedTune } from "../song/transposition.js";
import type { Tune } from "../song/tune.js";
import { fittingTranspositions } from "./choose-key.js";

/** Events by whose cost it is guessed where a tune lies well. */
const FIRST_EVENTS = 16;

/** Events that are gone through between two looks at what a place costs so far. */
const EVENTS_AT_ONCE = 8;

/** A key and octave in which the tune may be played, as far as it is worked out. */
export interface PlaceSoFar {
  readonly transposition: Transposition;
  readonly tune: Tune;
  /** 0 for the nearest to the tune as written. */
  readonly nearness: number;
  readonly making: ProblemInMaking;
  /** What the tune costs here at least. */
  readonly least: () => number;
}

/** An order in which places are worked out: it decides how soon the best is found, not which it is. */
export type PlaceOrder = (places: readonly PlaceSoFar[]) => readonly PlaceSoFar[];

const cheapestBeginningFirst: PlaceOrder = (places) =>
  places.toSorted((one, other) => one.least() - other.least());

/**
 * The tune arranged in the first place of the survey: the key, and the octave, that costs the hand least, of equal ones
 * the nearest. A place is left as soon as it is sure to be dearer than another.
 *
 * @throws ScoreError where wishes can be granted nowhere
 */
export function bestKey(
  tune: Tune,
  wishes: TuneWishes,
  inOrder: PlaceOrder = cheapestBeginningFirst,
): Arrangement | undefined {
  const refused: (ScoreError | undefined)[] = [];
  const places = fittingTranspositions(tune, wishes).flatMap(
    (transposition, nearness) =>
      unlessRefused(nearness, () => placeBegun(tune, wishes, transposition, nearness)) ?? [],
  );
  let best: { readonly place: PlaceSoFar; readonly chosen: ChosenWay } | undefined;
  for (const place of inOrder(places)) {
    const isNearer = best !== undefined && place.nearness < best.place.nearness;
    // Costs are whole numbers: of equal ones the nearer is wanted.
    const below = (best?.chosen.way.cost ?? Number.POSITIVE_INFINITY) + (isNearer ? 1 : 0);
    const chosen = unlessRefused(place.nearness, () => chosenBelow(place, wishes, below));
    if (chosen !== undefined && chosen.way.cost < below) best = { place, chosen };
  }
  if (best !== undefined) {
    const { place, chosen } = best;
    return arrangementBy(chosen, place.tune, place.transposition, wishes);
  }
  const error = refused.find((one) => one !== undefined);
  if (error !== undefined) throw error;
  return undefined;

  function unlessRefused<Found>(nearness: number, found: () => Found): Found | undefined {
    try {
      return found();
    } catch (error) {
      if (!(error instanceof ScoreError)) throw error;
      refused[nearness] = error;
      return undefined;
    }
  }
}

function placeBegun(
  given: Tune,
  wishes: TuneWishes,
  transposition: Transposition,
  nearness: number,
): PlaceSoFar {
  const tune = transposedTune(given, transposition);
  const making = problemInMaking(tune, wishes);
  making.addColumns(FIRST_EVENTS);
  const leastOfColumns = leastSoFar(making.problem);
  const least = () => leastOfColumns() + making.leastOfRest();
  return { transposition, tune, nearness, making, least };
}

/** How the tune is played in a place; undefined where that is impossible or sure to cost no less than `below`. */
function chosenBelow(
  { tune, making, least }: PlaceSoFar,
  wishes: TuneWishes,
  below: number,
): ChosenWay | undefined {
  const isHopeless = () => below < Number.POSITIVE_INFINITY && least() >= below;
  for (let isWhole = false; !isHopeless(); isWhole = making.addColumns(EVENTS_AT_ONCE))
    if (isWhole) return chosenWay(making.problem, tune, wishes, { below });
  return undefined;
}

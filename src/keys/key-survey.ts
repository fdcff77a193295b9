import type { SurveyedPlace } from "../arrangement/surveyed-place.js";
import type { TuneWishes } from "../arranging/arrange-settings.js";
import { arrangeTune, chosenWay } from "../arranging/arrange-tune.js";
import { arrangingProblem } from "../arranging/tune-problem.js";
import { ScoreError } from "../diagnostics.js";
import { lastFretAbove } from "../guitar/instrument.js";
import { type Transposition, transposedTune } from "../song/transposition.js";
import type { Tune } from "../song/tune.js";
import { fittingTranspositions, transpositionBy } from "./choose-key.js";

/**
 * The tune arranged in every key and at every octave in which its melody lies on its strings, the cheapest
 * first; of equal ones the nearest. A place where the player's wishes cannot be granted is left out.
 *
 * @param found Hears of each place as it is worked out.
 * @throws ScoreError where wishes can be granted nowhere
 */
export function surveyedPlaces(
  tune: Tune,
  wishes: TuneWishes,
  found: (place: SurveyedPlace) => void = () => undefined,
): readonly SurveyedPlace[] {
  const places: SurveyedPlace[] = [];
  let refused: ScoreError | undefined;
  for (const transposition of fittingTranspositions(tune, wishes)) {
    const moved = transposedTune(tune, transposition);
    try {
      const arrangement = arrangeTune(moved, transposition, { ...wishes, alternatives: 0 });
      if (arrangement === undefined) continue;
      places.push({ transposition, arrangement });
      found({ transposition, arrangement });
    } catch (error) {
      if (!(error instanceof ScoreError)) throw error;
      refused ??= error;
    }
  }
  if (places.length === 0 && refused !== undefined) throw refused;
  return places.sort((one, other) => one.arrangement.cost - other.arrangement.cost);
}

/** A capo that lets a place be played with the shapes of another key, and makes it cheaper. */
export interface CapoChoice {
  /** Fret the capo sits at. */
  readonly capo: number;
  /** From the written key to that of the shapes. */
  readonly shapes: Transposition;
  /** What the tune then costs, in points. */
  readonly cost: number;
}

/** A capo further up leaves little of the neck. Common practice. */
const HIGHEST_CAPO = 7;

/**
 * The capo that makes a place cheapest, sounding as it does without one; undefined where none does. Which
 * capo is tried is read off the survey, since shapes cost with a capo nearly what they cost without; what it
 * costs is then worked out exactly.
 */
export function capoFor(
  tune: Tune,
  { transposition, arrangement }: SurveyedPlace,
  places: readonly SurveyedPlace[],
  wishes: TuneWishes,
): CapoChoice | undefined {
  const { instrument } = wishes;
  const below = arrangement.cost;
  const costOfShapes = (capo: number): number =>
    places.find((one) => one.transposition.semitones === transposition.semitones - (capo - instrument.capo))
      ?.arrangement.cost ?? Number.POSITIVE_INFINITY;
  const [capo] = Array.from({ length: HIGHEST_CAPO + 1 }, (_, fret) => fret)
    .filter((fret) => fret !== instrument.capo && costOfShapes(fret) < below)
    .sort((one, other) => costOfShapes(one) - costOfShapes(other) || one - other);
  if (capo === undefined) return undefined;
  const frets = Math.min(instrument.frets, lastFretAbove(capo));
  const moved = transposedTune(tune, transposition);
  const withCapo = { ...wishes, instrument: { ...instrument, capo, frets } };
  const cost = chosenWay(arrangingProblem(moved, withCapo), moved, withCapo, { below })?.way.cost;
  if (cost === undefined || cost >= below) return undefined;
  return { capo, shapes: transpositionBy(tune, transposition.semitones - capo), cost };
}

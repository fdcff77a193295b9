import { ScoreError } from "../diagnostics.js";
import type { Tune } from "../song/tune.js";
import { arrangeTune, type TuneWishes } from "./arrange-tune.js";
import type { Arrangement, Transposition } from "./arrangement.js";
import { fittingTranspositions } from "./choose-key.js";
import { transposedTune } from "./transposed-tune.js";

/** A tune arranged where it fits: in one key, at one octave. */
export interface SurveyedPlace {
  readonly transposition: Transposition;
  readonly arrangement: Arrangement;
}

/**
 * The tune arranged in every key and at every octave in which its melody lies on its strings, the cheapest
 * first; of equal ones the nearest. A place where the player's wishes cannot be granted is left out.
 *
 * @throws ScoreError where wishes can be granted nowhere
 */
export function surveyedPlaces(tune: Tune, wishes: TuneWishes): readonly SurveyedPlace[] {
  const places: SurveyedPlace[] = [];
  let refused: ScoreError | undefined;
  for (const transposition of fittingTranspositions(tune, wishes)) {
    const moved = transposedTune(tune, transposition);
    try {
      const arrangement = arrangeTune(moved, transposition, { ...wishes, alternatives: 0 });
      if (arrangement !== undefined) places.push({ transposition, arrangement });
    } catch (error) {
      if (!(error instanceof ScoreError)) throw error;
      refused ??= error;
    }
  }
  if (places.length === 0 && refused !== undefined) throw refused;
  return places.sort((one, other) => one.arrangement.cost - other.arrangement.cost);
}

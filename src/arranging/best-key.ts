import type { Tune } from "../song/tune.js";
import { arrangeTune } from "./arrange-tune.js";
import type { Arrangement } from "./arrangement.js";
import { surveyedPlaces } from "./key-survey.js";
import { transposedTune } from "./transposed-tune.js";
import type { TuneWishes } from "./tune-wishes.js";

/** The tune arranged in the first place of the survey: the key, and the octave, that costs the hand least. */
export function bestKey(tune: Tune, wishes: TuneWishes): Arrangement | undefined {
  const [best] = surveyedPlaces(tune, wishes);
  if (best === undefined || wishes.alternatives === 0) return best?.arrangement;
  return arrangeTune(transposedTune(tune, best.transposition), best.transposition, wishes);
}

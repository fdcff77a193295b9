import type { Arrangement } from "../arrangement/arrangement.js";
import type { TuneWishes } from "../arranging/arrange-settings.js";
import { arrangeTune } from "../arranging/arrange-tune.js";
import { transposedTune } from "../song/transposition.js";
import type { Tune } from "../song/tune.js";
import { surveyedPlaces } from "./key-survey.js";

/** The tune arranged in the first place of the survey: the key, and the octave, that costs the hand least. */
export function bestKey(tune: Tune, wishes: TuneWishes): Arrangement | undefined {
  const [best] = surveyedPlaces(tune, wishes, { isOneEnough: true });
  if (best === undefined || wishes.alternatives === 0) return best?.arrangement;
  return arrangeTune(transposedTune(tune, best.transposition), best.transposition, wishes);
}

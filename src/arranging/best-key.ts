import type { Tune } from "../song/tune.js";
import { arrangeTune, type TuneWishes } from "./arrange-tune.js";
import type { Arrangement } from "./arrangement.js";
import { fittingTranspositions } from "./choose-key.js";
import { transposedTune } from "./transposed-tune.js";

/** The tune arranged in the key, and the octave, that costs the hand least; of equal ones the nearest. */
export function bestKey(tune: Tune, wishes: TuneWishes): Arrangement | undefined {
  let best: Arrangement | undefined;
  for (const transposition of fittingTranspositions(tune, wishes)) {
    const arrangement = arrangeTune(transposedTune(tune, transposition), transposition, wishes);
    if (arrangement !== undefined && (best === undefined || arrangement.cost < best.cost)) best = arrangement;
  }
  return best;
}

import type { TuneWishes } from "./arranging/arrange-settings.js";
import { instrumentFrom, melodyStringsFrom } from "./options/instrument-from-options.js";
import type { ArrangeOptions } from "./options/options.js";

/** What the options ask of an arrangement, but for its key; the player's own wishes are not among them. */
export const tuneWishesFrom = (options: ArrangeOptions): TuneWishes => ({
  texture: options.texture,
  rests: options.rests,
  restrike: options.restrike,
  bass: options.bass,
  rightHand: options.rightHand,
  alternatives: options.alternatives,
  wishes: [],
  notes: options.notes === "auto" ? "auto" : options.notes === "3" ? 3 : 4,
  shift: options.shift,
  tempo: options.tempo,
  instrument: instrumentFrom(options),
  melodyStrings: melodyStringsFrom(options),
});

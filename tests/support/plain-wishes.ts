import type { TuneWishes } from "../../src/arranging/arrange-settings.js";

/** What an arrangement is asked for where nothing is said; the instrument and the texture are the test's own. */
export const PLAIN_WISHES: Omit<TuneWishes, "instrument" | "texture"> = {
  notes: "auto",
  rests: "silent",
  bass: "none",
  restrike: "bar",
  rightHand: "either",
  shift: 250,
  tempo: 100,
  melodyStrings: [1, 2, 3],
  wishes: [],
  alternatives: 0,
};

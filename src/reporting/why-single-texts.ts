import type { WhySingle } from "../arrangement/arrangement.js";

/** Why a melody note is alone, in words after "alone". */
export const WHY_SINGLE_TEXTS: Readonly<Record<WhySingle, string>> = {
  "no-chord": "no chord is in force",
  "no-voice": "no other voice sounds there",
  wished: "as wished",
  "no-grip": "no chord is in reach under it",
  "no-time": "the hand has no time for a chord between the grips around it",
  "quick-note": "a quick note off the beat",
  "passing-note": "a quick note off the beat that is no tone of its chord",
  "weak-beat": "on a weak beat, where the lean texture asks for no chord",
  dearer: "with a chord here the whole would be harder to play",
};

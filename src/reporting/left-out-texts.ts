import type { LeftOutTone } from "../harmony/left-out.js";

/** Why a grip does without a tone of its chord, in words after the tone. */
export const LEFT_OUT_TEXTS: Readonly<Record<LeftOutTone["reason"], string>> = {
  "melody-stands-for-it": "the melody stands in its place",
  "clashes-under-melody": "it would clash under the melody",
  "sixth-stands-for-it": "the sixth stands in its place, since it would clash under the melody",
  "clashes-in-chord": "third and eleventh clash",
  "least-needed": "least needed",
  "out-of-reach": "out of reach",
};

import type { LeftOutTone } from "../harmony/left-out.js";
import { oneLine } from "../one-line.js";
import type { VoiceLeftOutReport } from "./event-report.js";

/** Why a grip does without a tone of its chord, in words after the tone. */
export const LEFT_OUT_TEXTS: Readonly<Record<LeftOutTone["reason"], string>> = {
  "melody-stands-for-it": "the melody stands in its place",
  "clashes-under-melody": "it would clash under the melody",
  "sixth-stands-for-it": "the sixth stands in its place, since it would clash under the melody",
  "clashes-in-chord": "third and eleventh clash",
  "least-needed": "least needed",
  "grip-stays": "the grip of before stays under the melody",
  "out-of-reach": "out of reach",
};

/** A note of a voice that is not played: "G3 of Tenor (its tone sounds elsewhere)". */
export const voiceLeftOutText = ({ voice, pitch, toneSounds }: VoiceLeftOutReport): string =>
  `${pitch} of ${oneLine(voice)} (${toneSounds ? "its tone sounds elsewhere" : "its tone is missing"})`;

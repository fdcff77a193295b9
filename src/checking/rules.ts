import { barreWide } from "./barre-wide.js";
import { clashUnderMelody } from "./clash-under-melody.js";
import { fingerMissing } from "./finger-missing.js";
import { fingerOnTwoFrets } from "./finger-on-two-frets.js";
import { fingerOrder } from "./finger-order.js";
import { fingerReach } from "./finger-reach.js";
import { fretPitchMismatch } from "./fret-pitch-mismatch.js";
import { gripImpossible } from "./grip-impossible.js";
import { guideTonesMissing } from "./guide-tones-missing.js";
import type { Rule } from "./judged-score.js";
import { melodyMissing } from "./melody-missing.js";
import { melodyNotOnTop } from "./melody-not-on-top.js";
import { moveTooFast } from "./move-too-fast.js";
import { noPlacement } from "./no-placement.js";
import { outOfRange } from "./out-of-range.js";
import { stavesDisagree } from "./staves-disagree.js";
import { stringFretMissing } from "./string-fret-missing.js";
import { stringTaken } from "./string-taken.js";

/** Everything a guitar score is judged by. */
export const RULES: readonly Rule[] = [
  stavesDisagree,
  stringFretMissing,
  outOfRange,
  fretPitchMismatch,
  stringTaken,
  fingerMissing,
  fingerOnTwoFrets,
  fingerOrder,
  fingerReach,
  gripImpossible,
  barreWide,
  noPlacement,
  moveTooFast,
  melodyMissing,
  melodyNotOnTop,
  clashUnderMelody,
  guideTonesMissing,
];

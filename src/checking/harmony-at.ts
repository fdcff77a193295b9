import { type Chord, chordOf } from "../harmony/chord-tones.js";
import { type SupportPlan, supportPlan } from "../harmony/support-plan.js";
import { mod12 } from "../song/pitch.js";
import type { JudgedScore } from "./judged-score.js";
import type { Moment } from "./moments.js";

/** What the chord symbol in force asks for under the melody at a moment. */
export interface HarmonyAt {
  readonly chord: Chord;
  readonly plan: SupportPlan;
  readonly melodyMidi: number;
}

/** Undefined before the first symbol, under N.C., and where no melody note sounds. */
export function harmonyAt({ score }: JudgedScore, { onset, melody }: Moment): HarmonyAt | undefined {
  const symbol = score.chords.findLast(({ start }) => start <= onset)?.symbol;
  if (symbol === undefined || melody === undefined) return undefined;
  const chord = chordOf(symbol);
  return { chord, plan: supportPlan(chord, mod12(melody.midi), "auto"), melodyMidi: melody.midi };
}

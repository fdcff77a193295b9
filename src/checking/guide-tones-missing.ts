import type { Finding } from "../diagnostics.js";
import { chordName } from "../harmony/chord-name.js";
import { type HarmonyAt, harmonyAt } from "./harmony-at.js";
import { type JudgedScore, placeAt, type Rule } from "./judged-score.js";
import type { Moment } from "./moments.js";

/** A chord struck under a sixth or seventh chord symbol, with the guide tones it lacks. */
export interface SeventhGrip {
  readonly moment: Moment;
  readonly harmony: HarmonyAt;
  /** Degrees of the guide tones that do not sound. */
  readonly lacking: readonly string[];
}

/** Grips of more than a triad in which the third or the seventh, or what stands for them, does not sound. */
export const guideTonesMissing: Rule = (judged) =>
  seventhGrips(judged)
    .filter(({ lacking }) => lacking.length > 0)
    .map((grip) => finding(judged, grip));

/** Grips with a supporting note struck under a symbol of more than a triad. The melody counts for the tone it stands for. */
export function seventhGrips(judged: JudgedScore): readonly SeventhGrip[] {
  return judged.moments.flatMap((moment) => {
    const harmony = harmonyAt(judged, moment);
    if (harmony === undefined || !harmony.chord.isSeventhOrLarger) return [];
    if (!moment.struck.some(({ midi }) => midi < harmony.melodyMidi)) return [];
    const classes = new Set(moment.sounding.map(({ midi }) => midi % 12));
    const lacking = harmony.plan.wanted
      .filter(({ role, pitchClass }) => role === "guide" && !classes.has(pitchClass))
      .map(({ label }) => label);
    return [{ moment, harmony, lacking }];
  });
}

function finding({ score }: JudgedScore, { moment, harmony, lacking }: SeventhGrip): Finding {
  const name = chordName(harmony.chord.symbol);
  return {
    rule: "guide-tones-missing",
    severity: "note",
    place: placeAt(score, moment.onset, moment.measure),
    found: `${name} without ${lacking.join(" and ")}`,
    expected: "the third and the seventh, or what stands for them",
    message: `The grip under ${name} lacks its ${lacking.join(" and ")}.`,
  };
}

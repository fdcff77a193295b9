import { mod12 } from "../song/pitch.js";
import type { Chord } from "./chord-tones.js";
import { melodyDegree } from "./melody-degree.js";

/** A tone of the chord that a grip does without, and why. */
export interface LeftOutTone {
  readonly degree: string;
  readonly reason:
    | "melody-stands-for-it"
    | "clashes-under-melody"
    | "sixth-stands-for-it"
    | "clashes-in-chord"
    | "least-needed"
    | "grip-stays"
    | "out-of-reach";
}

/**
 * What a grip leaves out of its chord.
 *
 * @param midis Everything that sounds, the melody included.
 * @param isKept The hand holds the grip of before.
 * @param isSuspended See `melodyDegree`.
 */
export function leftOut(
  chord: Chord,
  melodyMidi: number | undefined,
  midis: readonly number[],
  isKept = false,
  isSuspended = false,
): readonly LeftOutTone[] {
  const sounding = new Set(midis.map((midi) => midi % 12));
  const melody = melodyMidi === undefined ? undefined : melodyDegree(chord, melodyMidi % 12, isSuspended);
  const sixth = mod12((chord.tones.find((tone) => tone.role === "root")?.pitchClass ?? 0) + 9);
  return chord.tones
    .filter((tone) => !sounding.has(tone.pitchClass))
    .map((tone) => {
      const reason = (): LeftOutTone["reason"] => {
        if (tone === melody?.standsFor) return "melody-stands-for-it";
        const isUnderMelody = melodyMidi !== undefined && mod12(melodyMidi - tone.pitchClass) === 1;
        if (isUnderMelody)
          return tone.number === 7 && sounding.has(sixth) ? "sixth-stands-for-it" : "clashes-under-melody";
        if (tone.role === "fifth" || tone.role === "root" || tone.role === "extension") return "least-needed";
        if (isEleventhAgainstThird(chord, tone.number, tone.semitones)) return "clashes-in-chord";
        return isKept ? "grip-stays" : "out-of-reach";
      };
      return { degree: tone.label, reason: reason() };
    });
}

const isEleventhAgainstThird = (chord: Chord, number: number, semitones: number): boolean =>
  (number === 3 && semitones === 4 && chord.tones.some((tone) => tone.semitones === 17)) ||
  (semitones === 17 && chord.tones.some((tone) => tone.number === 3 && tone.semitones === 4));

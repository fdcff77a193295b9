import { mod12, pitchClass } from "../song/pitch.js";
import type { Chord, ChordTone } from "./chord-tones.js";

/** A melody note against a chord. */
export interface MelodyDegree {
  /** "9", "#11", "b7": as heard from the chord's root. */
  readonly label: string;
  /** The chord tone it is, if it is one. */
  readonly tone: ChordTone | undefined;
  /** The chord tone it stands in for: itself, or the neighbour it leans on; undefined where the chord has no such tone. */
  readonly standsFor: ChordTone | undefined;
}

/** Heard names of the twelve distances above a root, where the chord does not say otherwise. Common practice. */
const HEARD = ["1", "b9", "9", "b3", "3", "11", "#11", "5", "b13", "13", "b7", "7"] as const;

/**
 * What a melody note of a given pitch class is over a chord and what it replaces: ninths stand for the
 * root; sharp elevenths and thirteenths for the fifth; an eleventh for the fifth of a minor chord but for
 * the major third, which it would clash with, so that the chord sounds suspended; sevenths for the chord's own seventh
 * or sixth, in a triad for the root. An eleventh that goes down to a minor third is its suspension, and stands for
 * that third. A diminished fifth, without which the chord would be another, stays: there an
 * eleventh stands for the third, in a triad for nothing, and so does a thirteenth anywhere. Pease & Pullig, *Modern Jazz
 * Voicings*, p. 32; the eleventh: Nettles, *Harmony 3* (available tensions); the rest common practice.
 *
 * @param isSuspended The next melody note is the third under it, over the same chord.
 */
export function melodyDegree(chord: Chord, melodyPitchClass: number, isSuspended = false): MelodyDegree {
  const distance = mod12(melodyPitchClass - pitchClass(chord.symbol.root));
  const tone = chord.tones.find((candidate) => candidate.pitchClass === melodyPitchClass);
  if (tone !== undefined) return { label: tone.label, tone, standsFor: tone };
  const numbered = (...numbers: number[]) =>
    numbers
      .map((number) => chord.tones.find((candidate) => candidate.number === number))
      .find((found) => found !== undefined);
  const third = numbered(3);
  const hasMajorThird = third?.semitones === 4;
  const hasDiminishedFifth = numbered(5)?.semitones === 6;
  const isDiminishedSeventh = chord.tones.some(
    (candidate) => candidate.number === 7 && candidate.semitones === 9,
  );
  const label = distance === 3 && hasMajorThird ? "#9" : (HEARD[distance] ?? "1");
  // Every tone of a diminished seventh gives way to the tension a whole step above it.
  if (isDiminishedSeventh) {
    const below = [2, 1].map((step) =>
      chord.tones.find((t) => mod12(melodyPitchClass - t.pitchClass) === step),
    );
    return { label, tone, standsFor: below[0] ?? below[1] };
  }
  const standsFor = (): ChordTone | undefined => {
    switch (distance) {
      case 1:
      case 2:
        return numbered(1);
      case 3:
        return hasMajorThird ? numbered(1) : numbered(2, 1);
      case 4:
        return numbered(3, 5);
      case 5:
        if (hasMajorThird || isSuspended) return third;
        if (!hasDiminishedFifth) return numbered(5);
        return chord.isSeventhOrLarger ? third : undefined;
      case 6:
      case 7:
        return numbered(5);
      case 8:
      case 9:
        return hasDiminishedFifth ? undefined : numbered(5);
      case 10:
      case 11:
        return numbered(7, 6, 1);
      default:
        return numbered(1);
    }
  };
  return { label, tone, standsFor: standsFor() };
}

import type { Chord } from "../../harmony/chord-tones.js";
import { notesOf } from "../../harmony/support-plan.js";
import type { TextureWeights } from "./cost-table.js";

/**
 * What it costs that only some supporting notes are left of a chord that rings on under a melody note: that it
 * no longer says which chord it is, and each note that it is short of.
 *
 * @param noteShort Points for each note short where the melody note stands.
 * @param seconds How long it rings so.
 */
export function ringingCost(
  degrees: readonly string[],
  chord: Chord,
  melodyPitchClass: number,
  notes: "auto" | 3 | 4,
  noteShort: number,
  seconds: number,
  { heldHollowEachSecond }: TextureWeights,
): number {
  const isGuide = (label: string) =>
    chord.tones.some((tone) => tone.label === label && tone.role === "guide");
  const melody = chord.tones.find((tone) => tone.pitchClass === melodyPitchClass);
  const saysChord = (melody !== undefined && isGuide(melody.label)) || degrees.some(isGuide);
  // Two tones, one of them twice, are no triad.
  const isOfTriad = melody !== undefined && !chord.isSeventhOrLarger;
  const tones = isOfTriad ? new Set([...degrees, melody.label]).size - 1 : degrees.length;
  const short = Math.max(0, notesOf(chord, notes) - 1 - tones);
  return (saysChord ? 0 : Math.round(seconds * heldHollowEachSecond)) + short * noteShort;
}

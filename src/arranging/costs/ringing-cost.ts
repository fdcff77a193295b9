import type { Chord } from "../../harmony/chord-tones.js";
import { melodyDegree } from "../../harmony/melody-degree.js";
import { notesOf } from "../../harmony/support-plan.js";
import type { TextureWeights } from "./cost-table.js";

/**
 * What it costs that only some supporting notes are left of a chord that rings on under a melody note: that it
 * no longer says which chord it is, or says it without its third or its seventh, and each note that it is short of.
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
  { heldHollowEachSecond, heldLackingGuideEachSecond, lackingGuideFromSeconds }: TextureWeights,
): number {
  const isGuide = (label: string) =>
    chord.tones.some((tone) => tone.label === label && tone.role === "guide");
  const melody = chord.tones.find((tone) => tone.pitchClass === melodyPitchClass);
  const sounding = melody === undefined ? degrees : [...degrees, melody.label];
  const saysChord = sounding.some(isGuide);
  const standsFor = melodyDegree(chord, melodyPitchClass).standsFor;
  const lacking = chord.tones.filter(
    (tone) => tone.role === "guide" && tone !== standsFor && !sounding.includes(tone.label),
  ).length;
  // Two tones, one of them twice, are no triad.
  const isOfTriad = melody !== undefined && !chord.isSeventhOrLarger;
  const tones = isOfTriad ? new Set([...degrees, melody.label]).size - 1 : degrees.length;
  const short = Math.max(0, notesOf(chord, notes) - 1 - tones);
  const says = saysChord
    ? lacking * heldLackingGuideEachSecond * Math.max(0, seconds - lackingGuideFromSeconds)
    : heldHollowEachSecond * seconds;
  return Math.round(says) + short * noteShort;
}

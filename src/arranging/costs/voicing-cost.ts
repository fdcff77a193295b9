import type { SoundingString } from "../../guitar/fingering.js";
import { semitonesUnderLimit } from "../../harmony/low-intervals.js";
import type { SupportPlan, WantedTone } from "../../harmony/support-plan.js";
import type { VoicingWeights } from "./cost-table.js";

/** D3: below it only roots and fifths are quite clear (C. Israels, "Exploring Jazz Arranging", lesson 5). */
const CLEAR_OF_MUD_MIDI = 50;

/** A fourth under the melody leaves it room. */
const ROOMY_SEMITONES = 5;

/** Up to here the stopped strings sound much like the open ones. */
const NEAR_NUT_FRET = 4;

/** A fifth under the melody is as near as chord melody grips usually stand; wider costs. */
const NEAR_SEMITONES = 7;

/** What the choice and the spread of a grip's tones cost, in whole points, whoever holds it. */
export function voicingCost(
  supports: readonly (SoundingString & { readonly midi: number; readonly tone: WantedTone })[],
  melody: SoundingString,
  melodyMidi: number,
  plan: SupportPlan,
  weights: VoicingWeights,
): number {
  const midis = [...supports.map((support) => support.midi), melodyMidi];
  const classes = midis.map((midi) => midi % 12);
  const lowest = supports[0];
  let points = 0;
  const isInstead = plan.instead !== undefined && supports.some(({ tone }) => tone === plan.instead?.tone);
  for (const tone of plan.wanted) {
    if (classes.includes(tone.pitchClass)) continue;
    points += isInstead && tone === plan.instead?.of ? weights.fourthsInMinor : weights.missing[tone.role];
  }
  points += (classes.length - new Set(classes).size) * weights.doubledTone;
  if (plan.bass !== undefined && lowest !== undefined && lowest.midi % 12 !== plan.bass.pitchClass) {
    points += weights.slashBassNotLowest;
  }
  if (lowest !== undefined) {
    points += (lowest.string - melody.string + 1 - midis.length) * weights.silentInnerString;
    const under = melodyMidi - (midis.at(-2) ?? melodyMidi);
    points += Math.max(0, under - NEAR_SEMITONES) * weights.gapUnderMelodyEachSemitone;
    if (midis.length >= 4) points += Math.max(0, ROOMY_SEMITONES - under) * weights.crowdedMelodyEachSemitone;
  }
  const frets = [...supports, melody].map((note) => note.fret);
  const openStrings = frets.filter((fret) => fret === 0).length;
  const lowestStopped = Math.min(...frets.filter((fret) => fret > 0));
  if (openStrings > 0 && Number.isFinite(lowestStopped)) {
    points += openStrings * Math.max(0, lowestStopped - NEAR_NUT_FRET) * weights.openUnderHighHandEachFret;
  }
  for (const support of supports) {
    const isFirm = support.tone.role === "root" || support.tone.role === "fifth";
    if (support.midi < CLEAR_OF_MUD_MIDI && !isFirm) points += weights.lowToneNotRootOrFifth;
    if (support.fret === 0) points += weights.openString;
    if (melodyMidi - support.midi === 13) points += weights.askedMinorNinthUnderMelody;
  }
  midis.slice(1).forEach((upper, index) => {
    points += semitonesUnderLimit(midis[index] ?? 0, upper) * weights.underLowIntervalLimitEachSemitone;
  });
  points += roughness(supports, weights);
  points += weights.melodyString[melody.string - 1] ?? 0;
  if (melody.fret === 0) points += weights.openString;
  return Math.round(points);
}

/** Minor ninths and semitones among the supporting notes; the minor ninth of a root and its b9 is the chord's own. */
function roughness(
  supports: readonly { readonly midi: number; readonly tone: WantedTone }[],
  weights: VoicingWeights,
): number {
  let points = 0;
  for (const [index, lower] of supports.entries()) {
    for (const upper of supports.slice(index + 1)) {
      const distance = upper.midi - lower.midi;
      if (distance === 1) points += weights.semitoneBetweenSupports;
      if (distance === 13 && lower.tone.role !== "root") points += weights.minorNinthBetweenSupports;
    }
  }
  return points;
}

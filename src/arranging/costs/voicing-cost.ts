import type { SoundingString } from "../../guitar/fingering.js";
import type { Instrument } from "../../guitar/instrument.js";
import { semitonesUnderLimit } from "../../harmony/low-intervals.js";
import { shapeOf, shapesUnder } from "../../harmony/shapes/shape-table.js";
import type { SupportPlan, WantedTone } from "../../harmony/support-plan.js";
import { countOfClasses, hasClass, onlyClassOf, type PitchClassSet } from "../../song/pitch-class-set.js";
import type { VoicingWeights } from "./cost-table.js";
import { rightHandCost } from "./right-hand-cost.js";

const OCTAVE = 12;
const NONE_RINGING: readonly number[] = [];

/** What the choice and the spread of a grip's tones cost, in whole points, whoever holds it. */
export function voicingCost(
  instrument: Instrument,
  supports: readonly (SoundingString & { readonly midi: number; readonly tone: WantedTone })[],
  melody: SoundingString,
  melodyMidi: number,
  plan: SupportPlan,
  weights: VoicingWeights,
): number {
  const strings: readonly SoundingString[] = [...supports, melody];
  const midis = strings.map((_, index) => supports[index]?.midi ?? melodyMidi);
  let sounding = 0;
  for (const midi of midis) sounding |= onlyClassOf(midi);
  const lowest = supports[0];
  let points = 0;
  points += missingTonesCost(sounding, melody.string, plan, weights);
  if (plan.bass !== undefined && lowest !== undefined && lowest.midi % 12 !== plan.bass.pitchClass) {
    points += weights.slashBassNotLowest;
  }
  const isLowShell = melody.string >= LOW_MELODY_STRING && hasGuideTones(sounding, plan);
  points +=
    Math.max(0, plan.notes - midis.length) * (isLowShell ? weights.noteFewerInLowShell : weights.noteFewer);
  points += fullnessCost(sounding, midis.length, plan, weights);
  if (lowest !== undefined) {
    points += spacingCost(strings, midis, plan, weights);
    if (melody.string === 1 && lowest.string <= 3) points += weights.threeHighestStrings;
    points += lowestNoteCost(lowest, plan, weights);
    if (shapeOf(shapesUnder(plan.chord, melodyMidi % 12, plan.isSuspended), strings, midis) === undefined)
      points += weights.unknownShape;
  }
  const isBassString =
    (instrument.openStrings[(lowest ?? melody).string - 1] ?? 0) < weights.bassStringBelowMidi;
  if (soundsAsOtherChord(sounding, midis[0] ?? melodyMidi, isBassString, plan))
    points += weights.soundsAsOtherChord;
  points += openStringsCost(strings, weights);
  if (strings.every(({ fret }) => fret === 0)) points += weights.allOpen;
  for (const support of supports) {
    const isFirm = support.tone.role === "root" || support.tone.role === "fifth";
    if (support !== lowest && support.midi < weights.mudBelowMidi && !isFirm)
      points += weights.lowToneNotRootOrFifth;
    if (support.fret === 0) points += weights.openString;
    if ((instrument.openStrings[support.string - 1] ?? 0) < weights.thickStringBelowMidi)
      points += thickStringCost(support.fret, strings, weights);
    if (melodyMidi - support.midi === 13) points += weights.askedMinorNinthUnderMelody;
  }
  for (let upper = 1; upper < midis.length; upper += 1) {
    const under = semitonesUnderLimit(midis[upper - 1] ?? 0, midis[upper] ?? 0);
    points += under * weights.underLowIntervalLimitEachSemitone;
  }
  points += roughness(supports, weights);
  points += melodyPlaceCost(instrument, melody, weights);
  return Math.round(points);
}

/** Tones that the chord wants and the grip lacks; an eleventh stands for the fifth where fourths are to be had. */
function missingTonesCost(
  sounding: PitchClassSet,
  melodyString: number,
  { wanted, instead }: SupportPlan,
  weights: VoicingWeights,
): number {
  let points = 0;
  for (const tone of wanted) {
    const isReplaceable = tone === instead?.of;
    if (hasClass(sounding, tone.pitchClass))
      points += isReplaceable && instead.isPreferred ? weights.fifthForFourths : 0;
    else if (!(isReplaceable && hasClass(sounding, instead.tone.pitchClass)))
      points += weights.missing[tone.role];
    else
      points +=
        (instead.isPreferred ? 0 : weights.fourthsForFifth) +
        (melodyString > 1 ? weights.fourthsOnLowerStrings : 0);
  }
  return points;
}

/** Notes beyond those a chord asks for: the fourth of a triad among larger chords, a tone that is there twice; the fifth of these. */
function fullnessCost(
  sounding: PitchClassSet,
  count: number,
  { notes, chord }: SupportPlan,
  weights: VoicingWeights,
): number {
  const more = Math.max(0, count - notes);
  if (chord.isSeventhOrLarger) return more * weights.fifthNote;
  return Math.min(count - countOfClasses(sounding), more) * weights.doubledInFullTriad;
}

/** A melody on the third string or a lower one leaves three for what is under it. */
export const LOW_MELODY_STRING = 3;

const hasGuideTones = (sounding: PitchClassSet, { chord }: SupportPlan): boolean =>
  chord.tones.every(({ role, pitchClass }) => role !== "guide" || hasClass(sounding, pitchClass));

/**
 * Where the melody is played.
 *
 * @param isAlone It is plucked alone: over what rings on, or over nothing.
 */
export function melodyPlaceCost(
  instrument: Instrument,
  { string, fret }: SoundingString,
  weights: VoicingWeights,
  isAlone = false,
): number {
  const onString = weights.melodyString[string - 1] ?? 0;
  return (
    (isAlone ? Math.round(onString * weights.shareOfStringPluckedAlone) : onString) +
    (fret === 0 ? weights.openString : 0) +
    (fret + instrument.capo > instrument.bodyFret ? weights.melodyPastBody : 0)
  );
}

/** The thickest string, high up or reached for behind the rest of the hand. */
function thickStringCost(fret: number, strings: readonly SoundingString[], weights: VoicingWeights): number {
  const isTurnedTo = strings.some((note) => note.fret > 0 && fret - note.fret >= FRETS_BEHIND);
  return (
    Math.max(0, fret - weights.thickStringHighFret) * weights.thickStringHighEachFret +
    (isTurnedTo ? weights.thickStringTurnedTo : 0)
  );
}

const FRETS_BEHIND = 3;

/** Silent strings inside, holes, and how far the melody stands from what is under it. */
function spacingCost(
  strings: readonly SoundingString[],
  midis: readonly number[],
  { notes }: SupportPlan,
  weights: VoicingWeights,
): number {
  let points = rightHandCost(strings, NONE_RINGING, weights);
  for (let upper = 1; upper < midis.length; upper += 1) {
    if ((midis[upper] ?? 0) - (midis[upper - 1] ?? 0) > OCTAVE) points += weights.hole;
  }
  const top = midis.at(-1) ?? 0;
  const under = top - (midis.at(-2) ?? top);
  if (midis.length === 3 && top - (midis[0] ?? top) > OCTAVE) points += weights.spreadThreeNotes;
  points += Math.max(0, under - weights.nearSemitones) * weights.gapUnderMelodyEachSemitone;
  // The fourth note of a triad lies below: its melody stands where it stands over three.
  if (midis.length >= 4 && notes >= 4)
    points += Math.max(0, weights.roomySemitones - under) * weights.crowdedMelodyEachSemitone;
  return points;
}

/** A lowest note that is no bass: low down none but the root, or a tension or added sixth anywhere. */
export function lowestNoteCost(
  { midi, tone }: { readonly midi: number; readonly tone: WantedTone },
  { bass }: SupportPlan,
  weights: VoicingWeights,
): number {
  if (tone.role === "root" || midi % 12 === bass?.pitchClass) return 0;
  if (midi < weights.bassBelowMidi)
    return isFifth(tone.label)
      ? weights.lowestIsFifth
      : weights.lowestNotRootOrFifth + Math.max(0, weights.deepBelowMidi - midi) * weights.deepEachSemitone;
  return isTension(tone.label) ? weights.lowestIsTension : 0;
}

/** Other chords by the semitones above their root: major and minor triads; minor and major sevenths, which are sixth chords too. */
const TRIADS: readonly (readonly number[])[] = [
  [4, 7],
  [3, 7],
];
const SEVENTHS: readonly (readonly number[])[] = [
  [3, 7, 10],
  [4, 7, 11],
];

/** By the three or four pitch classes that sound, those over which they are such a chord; found when first asked. */
const rootsOf: (readonly number[] | undefined)[] = [];

function rootsIn(sounding: PitchClassSet): readonly number[] {
  const known = rootsOf[sounding];
  if (known !== undefined) return known;
  const chords = countOfClasses(sounding) === 3 ? TRIADS : SEVENTHS;
  const roots = PITCH_CLASSES.filter(
    (one) =>
      hasClass(sounding, one) &&
      chords.some((above) => above.every((semitones) => hasClass(sounding, (one + semitones) % 12))),
  );
  rootsOf[sounding] = roots;
  return roots;
}

const PITCH_CLASSES: readonly number[] = [...Array(12).keys()];

/** Three tones that divide the octave. */
const AUGMENTED: readonly PitchClassSet[] = [0, 1, 2, 3].map(
  (one) => onlyClassOf(one) | onlyClassOf(one + 4) | onlyClassOf(one + 8),
);

/**
 * What sounds is a plain chord of another root, and a tone is missing that would say otherwise: C major seventh as E
 * minor, its ninth on top of E minor seventh, B diminished under G as G major, or C minor under B as an augmented triad;
 * so is a sixth chord over its sixth, where that lies on a string for basses. A perfect fifth says nothing, but that F
 * sixth is not D minor. A dominant without its root says by its tritone what it is, and a minor seventh under its ninth
 * is taken so, unless the other root is the bass. Over a bass that the symbol names it is a plain chord without the root.
 */
function soundsAsOtherChord(
  sounding: PitchClassSet,
  lowestMidi: number,
  isBassString: boolean,
  { chord, bass }: SupportPlan,
): boolean {
  const count = countOfClasses(sounding);
  if (count !== 3 && count !== 4) return false;
  const root = chord.tones.find((tone) => tone.role === "root");
  if (root === undefined) return false;
  if (bass !== undefined)
    return count === 3 && !hasClass(sounding, root.pitchClass) && rootsIn(sounding).length > 0;
  if (!chord.isSeventhOrLarger && !hasClass(sounding, root.pitchClass) && AUGMENTED.includes(sounding))
    return true;
  const others = rootsIn(sounding);
  if (others.length === 0) return false;
  if (count === 3) {
    const hasSixth = chord.tones.some(({ label }) => label === "6");
    const saysItself = chord.tones.every(
      ({ pitchClass, label }) => (label === "5" && !hasSixth) || hasClass(sounding, pitchClass),
    );
    return !saysItself && others.some((one) => one !== root.pitchClass);
  }
  const lowest = lowestMidi % 12;
  // A sixth that lies as the bass makes the chord a seventh chord of its own.
  if (hasClass(sounding, root.pitchClass))
    return isBassString && lowest !== root.pitchClass && others.includes(lowest);
  const has = (label: string) => chord.tones.some((tone) => tone.label === label);
  if (!has("b7")) return true;
  return has("b3") && others.includes(lowest);
}

/** Whatever its size: the diminished fifth of a half-diminished chord is its bass as much as a perfect one. */
const isFifth = (label: string): boolean => label.endsWith("5");

const isTension = (label: string): boolean => /(6|9|11|13)$/.test(label);

/** Open strings under a hand high on the neck. */
export function openStringsCost(strings: readonly SoundingString[], weights: VoicingWeights): number {
  let open = 0;
  let lowest = Number.POSITIVE_INFINITY;
  let highest = 0;
  for (const { fret } of strings) {
    if (fret === 0) open += 1;
    else {
      lowest = Math.min(lowest, fret);
      highest = Math.max(highest, fret);
    }
  }
  if (open === 0 || highest === 0) return 0;
  const far = open * Math.max(0, lowest - weights.nearNutFret) * weights.openUnderHighHandEachFret;
  return far + (highest >= weights.highHandFret ? weights.openUnderHighHand : 0);
}

/** Minor ninths and semitones among the supporting notes; the minor ninth of a root and its b9 is the chord's own. */
function roughness(
  supports: readonly { readonly midi: number; readonly tone: WantedTone }[],
  weights: VoicingWeights,
): number {
  let points = 0;
  for (const lower of supports) {
    for (const upper of supports) {
      const distance = upper.midi - lower.midi;
      if (distance === 1) points += weights.semitoneBetweenSupports;
      if (distance === 13 && lower.tone.role !== "root") points += weights.minorNinthBetweenSupports;
    }
  }
  return points;
}

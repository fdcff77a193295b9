import { fingeringsOf, type SoundingString } from "../../guitar/fingering.js";
import { highestFretsInHand } from "../../guitar/fret-span.js";
import type { Finger } from "../../guitar/grip.js";
import { holdingEffort } from "../../guitar/hand-effort.js";
import { type Instrument, midiAt, stringCount } from "../../guitar/instrument.js";
import { beyondTempoReachMm } from "../../guitar/reach-at-tempo.js";
import { isUnwritten } from "../../guitar/unwritten-fingers.js";
import type { SupportPlan, WantedTone } from "../../harmony/support-plan.js";
import { hasClass, onlyClassOf, type PitchClassSet } from "../../song/pitch-class-set.js";
import { type Avoided, isFingerAvoided, isPlaceAvoided } from "../../wishes/avoided.js";
import type { CostTable } from "../costs/cost-table.js";
import { voicingCost } from "../costs/voicing-cost.js";
import { type GripsKept, KeptSoFar } from "./grips-kept.js";

/** A fingered grip under a melody note, before it is placed in a texture. */
export interface StruckGrip {
  /** From the lowest-pitched string up; the melody is the last. */
  readonly strings: readonly SoundingString[];
  readonly fingers: readonly Finger[];
  readonly midis: readonly number[];
  readonly degrees: readonly string[];
  readonly cost: number;
  /** By how much its widest pair of fingers is beyond what is reached at tempo. */
  readonly beyondTempoMm: number;
}

/** Where the melody may be played. */
export interface Fretboard {
  readonly instrument: Instrument;
  /** Strings the melody may use, 1 the highest. */
  readonly melodyStrings: readonly number[];
  /** What no grip may use, left out before the best grips and fingers are picked. */
  readonly avoided?: readonly Avoided[];
}

/** Placements that go on to be fingered for each place of the melody, by what their tones cost; more than a guitarist would look at. */
const PLACEMENTS_FINGERED = 60;

/** What else is known of the grips that are asked for. */
export interface StruckAsked {
  readonly fingersFor?: FingersFor | undefined;
  /** Points for a lowest note, by its MIDI number, beside what its tone costs anywhere. */
  readonly lowestCost?: (midi: number) => number;
  /** Which grips will be kept: others may be missing, once those are there. All are found where this is absent. */
  readonly kept?: GripsKept;
}

/**
 * Every grip that holds a melody note on top of a plan's tones: lower strings, neighbouring or not, open
 * strings included, pitches rising from string to string. Cheapest first; with the best fingers for each
 * finger that the melody note could take.
 */
export function struckGrips(
  board: Fretboard,
  melodyMidi: number,
  plan: SupportPlan,
  costs: CostTable,
  {
    fingersFor = (strings) => bestFingers(board, strings, costs),
    lowestCost = () => 0,
    kept,
  }: StruckAsked = {},
): readonly StruckGrip[] {
  const grips: StruckGrip[] = [];
  const free = placesFree(board, melodyMidi, plan);
  for (const melody of melodyPlaces(board, melodyMidi)) {
    if (!isPlaceFree(board, melody)) continue;
    const placements = placementsUnder(board, melody, melodyMidi, plan, free)
      .map((supports) => ({
        supports,
        tones:
          voicingCost(board.instrument, supports, melody, melodyMidi, plan, costs.voicing) +
          lowestCost(supports[0]?.midi ?? melodyMidi),
      }))
      .sort((a, b) => a.tones - b.tones)
      .slice(0, PLACEMENTS_FINGERED);
    const soFar = kept && new KeptSoFar(kept, melody.fret);
    for (const { supports, tones } of placements) {
      // Fingers cost something more, never less.
      if (soFar?.isWhole(tones)) break;
      const strings = [...supports.map(({ string, fret }) => ({ string, fret })), melody];
      const midis = [...supports.map((support) => support.midi), melodyMidi];
      const degrees = supports.map((support) => support.tone.label);
      const ways = fingersFor(strings);
      const least = Math.min(...ways.map(({ effort }) => effort));
      for (const { fingers, effort, beyondTempoMm } of ways) {
        const cost = tones + effort + Math.round((effort - least) * costs.voicing.unusualFingersEachPoint);
        grips.push({ strings, fingers, midis, degrees, cost, beyondTempoMm });
        soFar?.add(fingers.at(-1) ?? 0, cost);
      }
    }
  }
  return grips.sort((a, b) => a.cost - b.cost);
}

/** Strings and frets at which a melody note can be played. */
export function melodyPlaces(board: Fretboard, midi: number): readonly SoundingString[] {
  const { instrument } = board;
  return board.melodyStrings.flatMap((string) => {
    const fret = midi - midiAt(instrument, string, 0);
    const lowest = instrument.hasOpenStrings ? 0 : 1;
    return fret >= lowest && fret <= instrument.frets ? [{ string, fret }] : [];
  });
}

/** A supporting note placed on a string. */
export interface PlacedSupport extends SoundingString {
  readonly midi: number;
  readonly tone: WantedTone;
}

/** By string, where supporting notes may lie under a melody note, from the nut up. */
function placesFree(
  board: Fretboard,
  melodyMidi: number,
  plan: SupportPlan,
): readonly (readonly PlacedSupport[])[] {
  const { instrument } = board;
  const byPitchClass = new Map<number, WantedTone>();
  if (plan.bass !== undefined) byPitchClass.set(plan.bass.pitchClass, plan.bass);
  for (const tone of tonesOf(plan)) byPitchClass.set(tone.pitchClass, tone);
  const free: PlacedSupport[][] = [[]];
  for (let string = 1; string <= stringCount(instrument); string += 1) {
    const places: PlacedSupport[] = [];
    const open = midiAt(instrument, string, 0);
    const highest = Math.min(instrument.frets, melodyMidi - 1 - open);
    for (let fret = instrument.hasOpenStrings ? 0 : 1; fret <= highest; fret += 1) {
      const midi = open + fret;
      const tone = byPitchClass.get(midi % 12);
      if (tone === undefined || !isClearOfMelody(midi, melodyMidi, plan)) continue;
      const support = { string, fret, midi, tone };
      if (isPlaceFree(board, support)) places.push(support);
    }
    free.push(places);
  }
  return free;
}

/** The tones that may stand under the melody beside a foreign bass; of two for one pitch class the later counts. */
const tonesOf = ({
  mayStay,
  mayDouble,
  mayDoubleWhenFull,
  mayAdd,
  wanted,
  instead,
}: SupportPlan): readonly WantedTone[] => [
  ...(mayAdd === undefined ? [] : [mayAdd]),
  ...(mayStay === undefined ? [] : [mayStay]),
  ...(mayDoubleWhenFull === undefined ? [] : [mayDoubleWhenFull]),
  ...mayDouble,
  ...wanted,
  ...(instead === undefined ? [] : [instead.tone]),
];

/** Every set of supporting notes under a melody place that keeps the plan's rules, low to high. */
function placementsUnder(
  { instrument }: Fretboard,
  melody: SoundingString,
  melodyMidi: number,
  plan: SupportPlan,
  free: readonly (readonly PlacedSupport[])[],
): readonly (readonly PlacedSupport[])[] {
  const found: (readonly PlacedSupport[])[] = [];
  const isForeignBass =
    plan.bass !== undefined && !tonesOf(plan).some(({ pitchClass }) => pitchClass === plan.bass?.pitchClass);
  // A foreign bass under a triad is a fourth note, not one of its three.
  const most = Math.max(plan.mostNotes - 1, plan.notes - 1 + (isForeignBass && plan.notes < 4 ? 1 : 0));
  const highestWith = highestFretsInHand(instrument);
  const chosen: PlacedSupport[] = [];

  // Asked for thousands of sets a chord, so in whole numbers and without iterators; of the frets that are stopped it
  // knows the lowest and the highest, NO_FRET and 0 while there are none.
  const add = (ceiling: number, string: number, lowest: number, highest: number): void => {
    if (
      chosen.length > 0 &&
      oneOfTheTwo(chosen, melody, plan) &&
      isAddedLast(chosen, melodyMidi, plan) &&
      isDoubledWell(chosen, melodyMidi, plan) &&
      isFullOverRoot(chosen, plan, free.length - 1)
    )
      found.push(chosen.toReversed());
    if (chosen.length === most || (isForeignBass && chosen.at(-1)?.tone === plan.bass)) return;
    // A full grip leaves no string out but one right above its lowest note, which the finger there damps.
    const isToBeFull = chosen.length === FULL_SUPPORTS - 1;
    if (isToBeFull && !areSideBySide(chosen)) return;
    const end = isToBeFull ? Math.min(string + 2, free.length) : free.length;
    for (let next = string; next < end; next += 1) {
      const places = free[next] ?? NO_PLACES;
      for (let place = 0; place < places.length; place += 1) {
        const support = places[place];
        if (support === undefined || support.midi >= ceiling) break;
        const { fret } = support;
        const low = fret > 0 && fret < lowest ? fret : lowest;
        const high = Math.max(highest, fret);
        if (high > (highestWith[low] ?? 0)) continue;
        chosen.push(support);
        add(support.midi, next + 1, low, high);
        chosen.pop();
      }
    }
  };
  add(melodyMidi, melody.string + 1, melody.fret === 0 ? NO_FRET : melody.fret, melody.fret);
  return found;
}

const NO_PLACES: readonly PlacedSupport[] = [];

/** Beyond every fret. */
const NO_FRET = 99;

const isPlaceFree = ({ avoided = [] }: Fretboard, note: SoundingString): boolean =>
  !avoided.some((one) => isPlaceAvoided(one, note));

/** A tone that stands in another's place does not stand beside it, and only in a stack of fourths, on strings side by side. */
const oneOfTheTwo = (
  chosen: readonly PlacedSupport[],
  melody: SoundingString,
  { instead }: SupportPlan,
): boolean =>
  instead === undefined ||
  !chosen.some(({ tone }) => tone === instead.tone) ||
  (!chosen.some(({ tone }) => tone.pitchClass === instead.of.pitchClass) &&
    areSideBySide([melody, ...chosen]));

/** What the symbol does not name stands beside all that it does. */
const isAddedLast = (
  chosen: readonly PlacedSupport[],
  melodyMidi: number,
  { mayAdd, wanted }: SupportPlan,
): boolean =>
  mayAdd === undefined ||
  !chosen.some(({ tone }) => tone === mayAdd) ||
  haveAll(
    chosen.reduce((sounding, { midi }) => sounding | onlyClassOf(midi), onlyClassOf(melodyMidi)),
    wanted,
  );

/** Whether notes that are listed from the highest string down leave no string out. */
const areSideBySide = (notes: readonly SoundingString[]): boolean =>
  notes.every(({ string }, index) => string === (notes[0]?.string ?? 0) + index);

/** No supporting note a semitone or a minor ninth under the melody, unless the symbol asks for it. */
export const isClearOfMelody = (
  midi: number,
  melodyMidi: number,
  { askedClash }: Pick<SupportPlan, "askedClash">,
): boolean => {
  const under = melodyMidi - midi;
  return under !== 1 && (under !== 13 || midi % 12 === askedClash);
};

/**
 * Nothing is doubled while another tone is missing, and a third only by a melody that is the third itself. The root under
 * its own melody may stand lowest too where the fifth is missing, and in chords of four tones and more ninths and
 * thirteenths: the first seventh and sixth chords that are learned. There a third or seventh on top may be below as well,
 * in the shell of root, third and seventh that is under the hand. So may, under its own tone, the bass that the symbol
 * names, where root or fifth are missing.
 */
function isDoubledWell(
  chosen: readonly PlacedSupport[],
  melodyMidi: number,
  { wanted, chord, bass, mayDouble, mayDoubleWhenFull, melody }: SupportPlan,
): boolean {
  let sounding = onlyClassOf(melodyMidi);
  let doubled = 0;
  let doublings = 0;
  for (let index = 0; index < chosen.length; index += 1) {
    const one = onlyClassOf(chosen[index]?.midi ?? 0);
    if ((sounding & one) !== 0) {
      doubled |= one;
      doublings += 1;
    }
    sounding |= one;
  }
  if (doublings === 0) return true;
  if (haveAll(sounding, wanted)) {
    for (const { pitchClass } of mayDouble) doubled &= ~onlyClassOf(pitchClass);
    if (mayDoubleWhenFull !== undefined && chosen.length >= FULL_SUPPORTS)
      doubled &= ~onlyClassOf(mayDoubleWhenFull.pitchClass);
    return doubled === 0 || (bass !== undefined && doubled === onlyClassOf(bass.pitchClass));
  }
  const lowest = chosen.at(-1);
  if (doublings > 1 || lowest === undefined || doubled !== onlyClassOf(melodyMidi)) return false;
  const isLowest = lowest.midi % 12 === melodyMidi % 12;
  const isNamedBass = isLowest && lowest.midi % 12 === bass?.pitchClass;
  const isOnRoot = isLowest && lowest.tone.role === "root";
  const isGuide = chord.isSeventhOrLarger && melody.tone?.role === "guide";
  return (
    (isNamedBass || isOnRoot || isGuide) &&
    wanted.every(
      ({ pitchClass, role }) =>
        hasClass(sounding, pitchClass) ||
        role === "fifth" ||
        (isNamedBass && role === "root") ||
        (isOnRoot && (role === "extension" || role === "colour")),
    )
  );
}

function haveAll(sounding: PitchClassSet, tones: readonly WantedTone[]): boolean {
  for (const { pitchClass } of tones) if (!hasClass(sounding, pitchClass)) return false;
  return true;
}

/**
 * More than four notes, on strings side by side, are the chords of a first book, open or barred: a fifth and the root
 * lowest; on the lowest string where the index finger is.
 */
function isFullOverRoot(
  chosen: readonly PlacedSupport[],
  { bass, chord }: SupportPlan,
  lowestString: number,
): boolean {
  if (chosen.length < FULL_SUPPORTS) return true;
  const lowest = chosen.at(-1);
  const isOnBass =
    bass === undefined ? lowest?.tone.role === "root" : (lowest?.midi ?? 0) % 12 === bass.pitchClass;
  const hasFifth = chord.tones.some(({ label }) => label === "5");
  const isLowestShape =
    lowest?.string !== lowestString || chosen.every(({ fret }) => fret === 0 || fret >= lowest.fret);
  return isOnBass && hasFifth && isLowestShape;
}

/** From so many supporting notes on a grip is a full one. */
const FULL_SUPPORTS = 4;

/** Fingers for some strings, the melody's the last. */
interface Fingers {
  readonly fingers: readonly Finger[];
  /** Points for holding them. */
  readonly effort: number;
  /** By how much their widest pair is beyond what is reached at tempo. */
  readonly beyondTempoMm: number;
}

/** The fingers that some strings may be stopped with, easiest first. */
export type FingersFor = (strings: readonly SoundingString[]) => readonly Fingers[];

/** How much harder other fingers may be than the easiest, and such as bar where those do not, or do not where they bar. */
const OTHERS_WITHIN = 8;
const OTHERWISE_WITHIN = 15;

/**
 * The easiest fingers for each finger that can take the melody note, easiest first: of each, others too that are about
 * as easy, with the index finger across strings and without, for what stands before and after may want them.
 */
export function bestFingers(
  { instrument, avoided = [] }: Pick<Fretboard, "instrument" | "avoided">,
  strings: readonly SoundingString[],
  costs: CostTable,
): readonly Fingers[] {
  const ways = fingeringsOf(instrument, strings)
    .filter(
      (fingers) =>
        !avoided.some((one) => fingers.some((finger) => isFingerAvoided(one, finger))) &&
        !isUnwritten(instrument, strings, fingers),
    )
    .map((fingers) => ({ fingers, effort: holdingEffort(instrument, strings, fingers, costs.hand) }))
    .sort((a, b) => a.effort - b.effort);
  const easiest = new Map<Finger, number>();
  const seen = new Set<number>();
  return ways
    .filter(({ fingers, effort }) => {
      const onMelody = fingers.at(-1) ?? 0;
      const least = easiest.get(onMelody) ?? effort;
      easiest.set(onMelody, least);
      const way = 2 * onMelody + Number(isBarredBy(1, fingers));
      const isFirst = !seen.has(way);
      seen.add(way);
      return effort <= least + (isFirst ? OTHERWISE_WITHIN : OTHERS_WITHIN);
    })
    .map(({ fingers, effort }) => ({
      fingers,
      effort:
        effort +
        (isBarredBy(4, fingers) ? costs.voicing.littleFingerBarre : 0) +
        (isFlatBesideLowerFret(strings, fingers) ? costs.voicing.barreBesideLowerFret : 0),
      beyondTempoMm: beyondTempoReachMm(instrument, strings, fingers),
    }));
}

/** Whether another finger than the index lies across strings beside a higher string that is stopped nearer the nut. */
const isFlatBesideLowerFret = (strings: readonly SoundingString[], fingers: readonly Finger[]): boolean =>
  strings.some(({ string, fret }, index) => {
    const below = strings[index - 1];
    const finger = fingers[index - 1] ?? 0;
    return (
      below !== undefined &&
      finger > 1 &&
      fret > 0 &&
      fret < below.fret &&
      below.string === string + 1 &&
      fingers.indexOf(finger) < index - 1
    );
  });

const isBarredBy = (finger: Finger, fingers: readonly Finger[]): boolean =>
  fingers.indexOf(finger) !== fingers.lastIndexOf(finger);

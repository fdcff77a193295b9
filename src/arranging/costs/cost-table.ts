import type { HandWeights } from "../../guitar/hand-effort.js";
import type { Role } from "../../harmony/chord-tones.js";
import type { TextureName } from "../../options/options.js";

/**
 * Every weight of the arranger, in points. A point is the effort of one finger moved one millimetre along
 * the neck without hurry; everything else is weighed against that. Sums are rounded to whole points where
 * they are made, so totals are exact. Nothing musical is decided by a number that stands elsewhere.
 */
export interface CostTable {
  readonly hand: HandWeights;
  readonly voicing: VoicingWeights;
  readonly move: MoveWeights;
  readonly texture: TextureWeights;
}

export interface VoicingWeights {
  /** A wanted tone that the grip lacks. */
  readonly missing: Readonly<Record<Role, number>>;
  readonly slashBassNotLowest: number;
  readonly doubledTone: number;
  /** A supporting note let go where it could ring on under the melody: a guide tone, another tone. */
  readonly droppedWhileHeld: { readonly guide: number; readonly other: number };
  /** The eleventh for the fifth where the third of a minor seventh chord is on top: fourths all the way down. */
  readonly fourthsInMinor: number;
  readonly silentInnerString: number;
  readonly gapUnderMelodyEachSemitone: number;
  /** In a grip of four or more, the note under the melody nearer than a fourth, each semitone. */
  readonly crowdedMelodyEachSemitone: number;
  readonly underLowIntervalLimitEachSemitone: number;
  readonly lowToneNotRootOrFifth: number;
  readonly minorNinthBetweenSupports: number;
  readonly semitoneBetweenSupports: number;
  readonly askedMinorNinthUnderMelody: number;
  /** Melody on the string with this index from the top: the first, the second ... */
  readonly melodyString: readonly number[];
  readonly openString: number;
  /** An open string while the hand is past the fifth fret, for each fret that it is past it. */
  readonly openUnderHighHandEachFret: number;
}

export interface MoveWeights {
  readonly travelEachMm: number;
  /** Share of the travel added for each tenth of a second under the unhurried time. */
  readonly hurryEachTenth: number;
  readonly unhurriedSeconds: number;
  readonly fingerPutDown: number;
  readonly fingerSlid: number;
  readonly fingerCrossed: number;
  readonly barreChanged: number;
  /** From a barre of three strings or more straight into another: each second that the first was held. */
  readonly barreUnrestedEachSecond: number;
  readonly voiceEachSemitone: number;
  /** A move beyond the limit, by texture: the fluent one would rather leave any chord out. */
  readonly tooFast: Readonly<Record<TextureName, number>>;
  readonly inAndOutOfHarmony: number;
}

export interface TextureWeights {
  /** A melody note left single under a chord, by metric weight 0..3, in the fluent texture. */
  readonly bareFluent: readonly number[];
  readonly bareEachSecond: number;
  /** A melody note over a chord that rings on, by metric weight, and for each second it lasts. */
  readonly heldFluent: readonly number[];
  readonly heldEachSecond: number;
  /** A strong beat of the lean texture over a chord that rings on instead of its own. */
  readonly heldLean: number;
  /** A chord change that passes without its chord. */
  readonly bareChordChange: number;
  /** A single note where the full texture owes a chord: only where no grip exists. */
  readonly bareFull: number;
  readonly struckInHasteEachTenth: number;
  readonly hasteSeconds: number;
  /** Longest a passing note may be to count as quick. */
  readonly passingSeconds: number;
}

export const COSTS: CostTable = {
  // Calibrated: the weight that puts the printed fingers first most often in one half (by shape) of the
  // published fingerings and of chords-db, a printed one counting as three; the other half tests it.
  // `npm run fingers` shows both. Stated otherwise where neither says anything.
  hand: {
    // Fewer fingers are easier (Velez Vasquez et al., ISMIR 2023: fingers and barres weigh 2 where spread
    // weighs 3); how much is common practice. What each finger asks beyond the index is calibrated.
    finger: [0, 4, 7, 12, 13],
    // Calibrated: a wide step is made by the index finger, and a wide last step goes to the little finger.
    // 1-4 common practice: printed chords hardly go beyond four frets.
    stretchEachMm: { 12: 0.6, 13: 2, 14: 0.5, 23: 1, 24: 0.8, 34: 0.4 },
    squeezeEachMm: 0.1,
    // Spread is the heaviest criterion of the same rubric; calibration finds no more than this.
    strainEachMm: 0.3,
    // Calibrated: equal frets go to the lower string's finger first, and to neighbouring fingers.
    fingersCrossed: 30,
    fingerSkipped: 16,
    littleFingerOnLowerString: 10,
    // Calibrated: the index bars where fingers would have to stretch, the others where they run out.
    indexBarre: 5,
    indexBarreEachString: 12,
    otherBarre: 48,
    otherBarreEachString: 10,
    barreBelowOpenString: 20,
    barreRoundNextFret: 10,
    // Common practice: a barre reaches all there is at its fret.
    fingerBesideBarre: 25,
    // Hardest next to the nut, where the string is stiffest (A. Chircop, antonyreynaert.com); the size is
    // common practice, since the fingers chosen do not show it.
    barreNearNut: 5,
    // Calibrated: in first position and among open strings finger n stops fret n.
    behindNutEachFret: 8,
    openOutOfFirstPositionEachFret: 5,
    // Of equal grips the lower on the neck is printed (same data, by pitches alone).
    crampedEachMm: 0.5,
    // The body is in the way beyond the twelfth fret of a classical guitar. Common practice.
    pastBodyEachFret: 12,
    // Spread weighs most in the rubric of Velez Vasquez et al. (3, where fingers and barres weigh 2); the
    // printed fingers cannot show its size, since every way to finger one grip is equally wide.
    spanEachMm: 0.5,
    wideSpanEachMm: 4,
  },
  voicing: {
    // What to leave out first: fifth, root, lower unaltered extensions; what to keep: guide tones, the
    // highest extension, every altered tone (D. Lamkins, "Fretboard Map", 2004).
    missing: { guide: 600, colour: 320, extension: 150, root: 130, fifth: 100 },
    slashBassNotLowest: 160,
    doubledTone: 60,
    droppedWhileHeld: { guide: 150, other: 50 },
    // Stacks of fourths are at home in minor sevenths; a colour, so a little dearer than the chord's own fifth.
    fourthsInMinor: 30,
    silentInnerString: 40,
    gapUnderMelodyEachSemitone: 4,
    // Dropping the second voice opens the chord under the melody: every drop-2 voicing leaves a fourth or
    // more there (shared tables; common practice).
    crowdedMelodyEachSemitone: 18,
    underLowIntervalLimitEachSemitone: 12,
    // Nothing but root or fifth below D3 (C. Israels, "Exploring Jazz Arranging", lesson 5): a cost here,
    // since as a law it would forbid ordinary guitar grips.
    lowToneNotRootOrFifth: 40,
    minorNinthBetweenSupports: 120,
    semitoneBetweenSupports: 15,
    askedMinorNinthUnderMelody: 60,
    // The melody speaks best on the two highest strings. Common practice.
    melodyString: [0, 0, 120, 260, 360, 460],
    openString: 2,
    // Its tone stands out from notes stopped high on thick strings. Common practice.
    openUnderHighHandEachFret: 10,
  },
  move: {
    travelEachMm: 0.5,
    hurryEachTenth: 0.2,
    // Cellists alternate one-finger shifts once a second with ease (Chen et al. 2013): with that much time
    // a shift is not a difficulty.
    unhurriedSeconds: 1,
    fingerPutDown: 6,
    fingerSlid: 4,
    fingerCrossed: 10,
    barreChanged: 4,
    // Full barres for short periods only (musiccatalog.net, guitar level 5); the size is common practice:
    // after a few seconds another shape is worth looking for.
    barreUnrestedEachSecond: 10,
    voiceEachSemitone: 1,
    tooFast: { fluent: 6000, lean: 6000, full: 300 },
    inAndOutOfHarmony: 25,
  },
  texture: {
    // Harmonise the longer notes and what falls on a chord change or a strong beat; leave the quick ones
    // ("Digging Deeper: Rocking Chord-Melody Technique", Premier Guitar).
    bareFluent: [60, 130, 220, 300],
    bareEachSecond: 150,
    // Hold a chord with as few fingers as possible and move only the melody (G. Ruby, Acoustic Guitar, 2022).
    heldFluent: [0, 10, 30, 60],
    heldEachSecond: 40,
    heldLean: 60,
    bareChordChange: 2500,
    bareFull: 20000,
    struckInHasteEachTenth: 60,
    hasteSeconds: 0.3,
    passingSeconds: 0.4,
  },
};

import type { HandWeights } from "../../guitar/hand-effort.js";
import type { Role } from "../../harmony/chord-tones.js";
import type { RightHand, TextureName } from "../../options/options.js";

/**
 * Every weight of the arranger, in points, which compare ways to play one tune and mean nothing by themselves. Sums are
 * rounded to whole points where they are made, so totals are exact. Nothing musical is decided by a number that stands
 * elsewhere.
 */
export interface CostTable {
  readonly hand: HandWeights;
  readonly voicing: VoicingWeights;
  readonly move: MoveWeights;
  readonly texture: TextureWeights;
  readonly sameness: SamenessWeights;
  readonly sung: SungWeights;
  /** In place of the same weights of `voicing` and `sung` where it is said what strikes the strings. */
  readonly rightHand: Readonly<Record<Exclude<RightHand, "either">, RightHandWeights>>;
}

/** What striking several strings together asks of the right hand. */
export interface RightHandWeights {
  /** Each silent string inside the grip, but for one right above its lowest note. */
  readonly silentInnerString: number;
  readonly silentStringAboveLowest: number;
  /** Each string inside that rings on from before and is not to be struck again. */
  readonly ringingInnerString: number;
  /** Each note more than the thumb and three fingers take. */
  readonly noteBeyondFour: number;
}

export interface SamenessWeights {
  /** What a measure that comes again may cost the whole arrangement more so that it is played as before. */
  readonly eachMeasure: number;
}

export interface VoicingWeights extends RightHandWeights {
  /** A wanted tone that the grip lacks. */
  readonly missing: Readonly<Record<Role, number>>;
  /** Each note that the grip has fewer than the chord asks for. */
  readonly noteFewer: number;
  /** The same where third and seventh sound under a melody on the third string or a lower one, which leaves no room for more. */
  readonly noteFewerInLowShell: number;
  readonly slashBassNotLowest: number;
  /** The fourth note of a triad. */
  readonly doubledInFullTriad: number;
  /** The fifth note of a larger chord. */
  readonly fifthNote: number;
  /** A supporting note let go where it could ring on under the melody: a guide tone or the root, another tone. */
  readonly droppedWhileHeld: { readonly guideOrRoot: number; readonly other: number };
  /** What of that it costs where the melody takes its string, and nothing else sounds its tone. */
  readonly shareWhereMelodyTakes: number;
  /** Without its root a grip sounds as a plain chord of another root. */
  readonly soundsAsOtherChord: number;
  /** So does a sixth chord over its sixth, on strings whose open pitch is below this: they are for basses. */
  readonly bassStringBelowMidi: number;
  /** Another lowest note than the root, at the end of a tune and anywhere else. */
  readonly notOnRootAtEnd: number;
  readonly notOnRoot: number;
  /** A root as high as this or higher lowest. */
  readonly onHighRoot: number;
  readonly rootIsBassBelowMidi: number;
  /**
   * The fifth where the eleventh in its place makes fourths all the way down, under the third of a minor seventh, and these
   * come first.
   */
  readonly fifthForFourths: number;
  /** That eleventh where the plain chord comes first. */
  readonly fourthsForFifth: number;
  /** And where the melody is not on the highest string: fourths lie on the four highest. */
  readonly fourthsOnLowerStrings: number;
  /** A grip that belongs to no family of shapes that players know. */
  readonly unknownShape: number;
  /** Nothing sounds below the third string under a melody on the first. */
  readonly threeHighestStrings: number;
  /** Three notes that span more than an octave. */
  readonly spreadThreeNotes: number;
  /** More than an octave between two neighbouring voices. */
  readonly hole: number;
  /** The note under the melody farther from it than is near, each semitone. */
  readonly gapUnderMelodyEachSemitone: number;
  readonly nearSemitones: number;
  /** In a grip of four or more, the note under the melody nearer than leaves it room, each semitone. */
  readonly crowdedMelodyEachSemitone: number;
  readonly roomySemitones: number;
  readonly underLowIntervalLimitEachSemitone: number;
  /** The lowest note is neither root nor fifth nor slash bass, and lies where it is heard as a bass. */
  readonly lowestNotRootOrFifth: number;
  readonly bassBelowMidi: number;
  /** And each semitone that it lies below what is deep. */
  readonly deepEachSemitone: number;
  readonly deepBelowMidi: number;
  /** There the lowest note is the fifth, and no slash bass. */
  readonly lowestIsFifth: number;
  /** Any other supporting note that is neither, and lies lower still. */
  readonly lowToneNotRootOrFifth: number;
  readonly mudBelowMidi: number;
  /** The lowest note is a ninth, eleventh or thirteenth, or a sixth, which makes a seventh chord of its own. */
  readonly lowestIsTension: number;
  readonly minorNinthBetweenSupports: number;
  readonly semitoneBetweenSupports: number;
  readonly askedMinorNinthUnderMelody: number;
  /** Melody on the string with this index from the top: the first, the second ... */
  readonly melodyString: readonly number[];
  /** What of that a melody note costs that is plucked alone, over what rings on or over nothing. */
  readonly shareOfStringPluckedAlone: number;
  /** Melody beyond the fret where the body is in the way. */
  readonly melodyPastBody: number;
  readonly openString: number;
  /** Nothing but open strings, struck. */
  readonly allOpen: number;
  /** Open strings while a finger is as high as this fret. */
  readonly openUnderHighHand: number;
  readonly highHandFret: number;
  /** Each open string for each fret that the whole hand is past those near the nut. */
  readonly openUnderHighHandEachFret: number;
  readonly nearNutFret: number;
  /** A string whose open pitch is as low as the lowest of a guitar, stopped above this fret, each fret. */
  readonly thickStringHighEachFret: number;
  readonly thickStringHighFret: number;
  readonly thickStringBelowMidi: number;
  /** Such a string stopped three frets and more above the lowest fret of the grip: the hand turns round for it. */
  readonly thickStringTurnedTo: number;
  /** Other fingers than the easiest for a grip: each point by which they are harder, on top of it. */
  readonly unusualFingersEachPoint: number;
  /** The little finger across strings: it decides between grips, never between fingers. */
  readonly littleFingerBarre: number;
  /** So does another finger than the index across strings beside a higher one that is stopped behind it. */
  readonly barreBesideLowerFret: number;
}

export interface MoveWeights {
  readonly travel: TravelWeights;
  readonly fingers: FingerChangeWeights;
  readonly voices: VoiceWeights;
  /** How many times as much the way of the hand and other fingers count while the chord stays. */
  readonly underOneChord: number;
  /** Another set of strings than before. */
  readonly stringSetChanged: Readonly<Record<TextureName, number>>;
  /** The same melody note over the same chord in another place or over another grip. */
  readonly regrippedOnRepeat: number;
  /** Over a chord that rings on the melody goes down to a higher string, or up to a lower one. */
  readonly lineCrossed: number;
  /** From a barre of three strings or more straight into another: each second that the first was held. */
  readonly barreUnrestedEachSecond: number;
  /** A move beyond the limit, by texture: the fluent one would rather leave any chord out. */
  readonly tooFast: Readonly<Record<TextureName, number>>;
  readonly inAndOutOfHarmony: number;
}

export interface TravelWeights {
  readonly eachMm: number;
  /** Each mm of a move beyond this many is dearer by so much. */
  readonly longFromMm: number;
  readonly longEachMm: number;
  /** Share of the old note, at its end, in which the hand may move. */
  readonly shareOfNoteForShift: number;
  readonly leastShiftSeconds: number;
  /** Up to this speed a shift is easy. */
  readonly easyMmPerSecond: number;
  /** Each mm of a faster one, times how much faster it is. */
  readonly hurriedEachMm: number;
  /** How much moving matters in each texture. */
  readonly scale: Readonly<Record<TextureName, number>>;
}

export interface FingerChangeWeights {
  readonly putDown: number;
  readonly slid: number;
  readonly crossed: number;
  readonly barreChanged: number;
  /** A finger takes over from another what stays at its string and fret. */
  readonly exchanged: number;
  /** One that lay across several strings makes room on one of them for a finger behind it. */
  readonly flatFingerRaised: number;
}

export interface VoiceWeights {
  /** By the semitones that a voice moves; as many more are free as the melody moves beyond a step. */
  readonly eachVoice: readonly number[];
  readonly melodyStepSemitones: number;
  readonly voiceComesOrGoes: number;
  /** What a bass that goes to a root, or to the bass of a symbol, costs of what another voice would. */
  readonly bassShare: number;
  /** Such a bass comes under the voices of before, or goes from under them. */
  readonly bassComesOrGoes: number;
  readonly scale: Readonly<Record<TextureName, number>>;
}

export interface TextureWeights {
  /** A melody note left single under a chord, by metric weight 0..3, in the fluent texture. */
  readonly bareFluent: readonly number[];
  readonly bareEachSecond: number;
  /** A melody note over a chord that rings on, by metric weight, and for each second it lasts. */
  readonly heldFluent: readonly number[];
  readonly heldEachSecond: number;
  /** What rings on under the melody has no guide tone left, nor has the melody one: each second of it. */
  readonly heldHollowEachSecond: number;
  /** It has one of them, but lacks the third or the seventh: each second of it beyond so many. */
  readonly heldLackingGuideEachSecond: number;
  readonly lackingGuideFromSeconds: number;
  /** Each note that a chord ringing on under a melody note has fewer than it asks for, by metric weight. */
  readonly noteShortFluent: readonly number[];
  /** A chord that rings on where it is due to be struck again. */
  readonly heldWhereStrikeIsDue: number;
  /** A chord struck again though it has not changed, by metric weight. */
  readonly struckAgain: readonly number[];
  /** A grip struck again under another melody note, whatever that asks for. */
  readonly gripStruckAgain: number;
  /** What it costs then of what it costs else to lack a guide tone that the melody has just left, and any other tone. */
  readonly shareOfLackingAgain: number;
  /** Share of what a lowest note costs that is no bass, each second that it goes on being heard under other melody notes. */
  readonly lowestAgainEachSecond: number;
  /** A chord with a minor seventh struck under the major one, which is not its own. */
  readonly struckAgainstSeventh: number;
  /** A strong beat of the lean texture over a chord that rings on instead of its own. */
  readonly heldLean: number;
  /** A chord change that passes without its chord. */
  readonly bareChordChange: number;
  /** A chord that changes on a note off the beat and over at once, and comes in with the next note. */
  readonly bareAnticipation: number;
  /** A quick note off the beat left single in the full texture. */
  readonly bareQuickFull: number;
  /** A single note where the full texture owes a chord: only where no grip exists. */
  readonly bareFull: number;
  readonly struckInHasteEachTenth: number;
  readonly hasteSeconds: number;
  /** A note off the beat up to this long has no chord of its own: an eighth at 75 quarters a minute. */
  readonly quickSeconds: number;
  /** One off the beat that comes so soon after another had better stay over the chord of that one. */
  readonly atOnceSeconds: number;
  /** A pair of fingers wider than it goes at tempo, struck or held, each mm; a grip that lasts `calmSeconds` costs `calmShare` of it. */
  readonly wideAtTempoEachMm: number;
  readonly calmSeconds: number;
  readonly calmShare: number;
}

/** Where the supports are the notes that the voices of an ensemble sing. */
export interface SungWeights extends RightHandWeights {
  /** The lowest note of the guitar is not the bass of the ensemble, whatever the octave. */
  readonly bassNotLowest: number;
  /** A pitch class that is sung and not played. */
  readonly toneLeftOut: number;
  /** A voice that is left out where another note has its pitch class; the same of the bass. */
  readonly voiceLeftOut: number;
  readonly bassDoubledOnly: number;
  /** Percent of these for a voice that began earlier, and for one in a moment shorter than `shortSeconds`. */
  readonly heldOverPercent: number;
  readonly shortPercent: number;
  readonly shortSeconds: number;
  /** Each octave away from where it is sung. */
  readonly bassOctave: number;
  readonly voiceOctave: number;
  /** A voice goes to another octave than it was in: a leap that the singer does not sing. */
  readonly lineBroken: number;
  /** A note struck again that the singer holds, and one that rings on where a singer begins it anew. */
  readonly struckAgain: number;
  readonly notStruckWhenSung: number;
  readonly openString: number;
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
    // From 60 on the printed fingers are the same; the rest is common practice.
    barreBelowOpenString: 160,
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
    spanEachMm: 0.7,
    wideSpanEachMm: 8,
    // However near the frets are, a shape of four is known before one of five. Common practice.
    spanEachFret: 150,
  },
  voicing: {
    // What to leave out first: fifth, root, lower unaltered extensions; what to keep: guide tones, the
    // highest extension, every altered tone (D. Lamkins, "Fretboard Map", 2004). The root is dearer here: where
    // nobody else plays it, players keep it. Common practice.
    missing: { guide: 600, colour: 320, extension: 150, root: 560, fifth: 100 },
    noteFewer: 330,
    // Third and seventh under the melody are a chord. Common practice.
    noteFewerInLowShell: 60,
    // A bass that the symbol names is a line of its own: it is left out only where no hand has it. Common practice.
    slashBassNotLowest: 900,
    doubledInFullTriad: 2,
    // Four are enough; the barred chords of a first book have one more. Common practice.
    fifthNote: 100,
    droppedWhileHeld: { guideOrRoot: 450, other: 240 },
    // A grip is taken where the line has room over it. Common practice.
    shareWhereMelodyTakes: 0.3,
    soundsAsOtherChord: 300,
    bassStringBelowMidi: 50,
    // One guitar has nobody else to name the chord: a root that a hand has is taken, most of all at the end. Common
    // practice.
    notOnRootAtEnd: 450,
    notOnRoot: 280,
    // From the open third string on a root is hardly more of a bass than another tone. Common practice.
    onHighRoot: 160,
    rootIsBassBelowMidi: 55,
    // Stacks of fourths are at home in minor sevenths: of equal grips the one in fourths. Common practice.
    fifthForFourths: 20,
    // They colour it where nobody asked for colour. Common practice.
    fourthsForFifth: 150,
    fourthsOnLowerStrings: 110,
    // A player reaches for a shape under the hand before a new one. Common practice.
    unknownShape: 45,
    // A string between two that sound has to be damped; above the lowest note that finger does it.
    silentInnerString: 320,
    silentStringAboveLowest: 70,
    // All of a grip is struck, and few have five notes.
    ringingInnerString: 0,
    noteBeyondFour: 0,
    // The hand that holds a triad there has a finger or a barre to spare for a note below. Common practice.
    threeHighestStrings: 90,
    spreadThreeNotes: 270,
    hole: 80,
    // A fifth under the melody is as near as chord melody grips usually stand. Common practice.
    gapUnderMelodyEachSemitone: 4,
    nearSemitones: 7,
    // Dropping the second voice opens the chord under the melody: every drop-2 voicing leaves a fourth or
    // more there (shared tables; common practice).
    crowdedMelodyEachSemitone: 18,
    roomySemitones: 5,
    underLowIntervalLimitEachSemitone: 90,
    // Nothing but root or fifth below D3 (C. Israels, "Exploring Jazz Arranging", lesson 5): a cost here,
    // since as a law it would forbid ordinary guitar grips.
    lowestNotRootOrFifth: 320,
    // E3: a lowest note under it is heard as a bass. Common practice.
    bassBelowMidi: 52,
    // Below C3 thirds and sevenths are mud. Common practice.
    deepEachSemitone: 40,
    deepBelowMidi: 48,
    // A second inversion wants to move on: the root is one string lower in most shapes. Common practice.
    lowestIsFifth: 120,
    lowToneNotRootOrFifth: 60,
    mudBelowMidi: 50,
    lowestIsTension: 60,
    minorNinthBetweenSupports: 120,
    semitoneBetweenSupports: 60,
    askedMinorNinthUnderMelody: 110,
    // The melody speaks best on the two highest strings. Common practice.
    melodyString: [0, 0, 120, 260, 360, 460],
    // A line goes where the grip has it. Common practice.
    shareOfStringPluckedAlone: 0.5,
    melodyPastBody: 100,
    openString: 8,
    // A chord of open strings alone is a way out, not a grip. Common practice.
    allOpen: 300,
    // Its tone stands out from notes stopped high on thick strings. Common practice.
    openUnderHighHand: 250,
    highHandFret: 6,
    openUnderHighHandEachFret: 20,
    nearNutFret: 4,
    // Up there the thickest string sounds dull. Common practice.
    thickStringHighEachFret: 42,
    thickStringHighFret: 9,
    thickStringBelowMidi: 43,
    // Shapes on it have the index finger there, or the one behind. Common practice.
    thickStringTurnedTo: 80,
    // A grip is taken as it was learned, not so that the hand gets nearer to the next one. Common practice.
    unusualFingersEachPoint: 1,
    // The weakest finger bars where no other can. Common practice; printed fingers do not show it.
    littleFingerBarre: 250,
    // Flat, it damps the string beside it. Common practice; printed fingers do not show it.
    barreBesideLowerFret: 80,
  },
  move: {
    travel: {
      eachMm: 1.7,
      // Up to about two frets the hand glides; beyond, it leaves the neck. Common practice.
      longFromMm: 50,
      longEachMm: 1.8,
      // A note loses its last third before it is heard as cut short. Common practice.
      shareOfNoteForShift: 0.35,
      leastShiftSeconds: 0.05,
      // Cellists alternate one-finger shifts once a second with ease (Chen et al. 2013): the third of a
      // second for about the two frets.
      easyMmPerSecond: 170,
      hurriedEachMm: 0.65,
      // The full texture is mapped along the strings first; the fluent one takes the travel out again.
      scale: { full: 1.5, fluent: 1.7, lean: 1.6, voices: 0.26 },
    },
    // What stays at its string and fret stays under its finger. Common practice.
    fingers: { putDown: 6, slid: 4, crossed: 10, barreChanged: 4, exchanged: 30, flatFingerRaised: 100 },
    voices: {
      // A step is nearly free, a leap is dear: jazz guitarists' own progressions move an inner voice 1.1
      // semitones on average and never beyond a major third (counted from a public research set).
      eachVoice: [0, 4, 9, 20, 38, 130, 140, 150, 160, 170, 180, 190, 200],
      melodyStepSemitones: 2,
      voiceComesOrGoes: 112,
      // Basses go from root to root by leaps, and rest between them. Common practice.
      bassShare: 0.3,
      bassComesOrGoes: 40,
      scale: { full: 1, fluent: 1.3, lean: 1, voices: 0 },
    },
    // A bar is thought of as one grip with a moving top; the hand moves where the chord does. Common practice.
    underOneChord: 2,
    // The same set: 96 to 100 of 100 changes stay on their strings.
    stringSetChanged: { full: 55, fluent: 50, lean: 50, voices: 0 },
    regrippedOnRepeat: 3000,
    // Under a hand that stays a line goes across the strings as its pitches go. Common practice.
    lineCrossed: 200,
    // Full barres for short periods only (musiccatalog.net, guitar level 5); the size is common practice:
    // after a few seconds another shape is worth looking for.
    barreUnrestedEachSecond: 30,
    tooFast: { fluent: 6000, lean: 6000, full: 1200, voices: 6000 },
    // Dear enough that a note alone is no way round the price of moving voices. Common practice.
    inAndOutOfHarmony: 60,
  },
  texture: {
    // Harmonise the longer notes and what falls on a chord change or a strong beat; leave the quick ones
    // ("Digging Deeper: Rocking Chord-Melody Technique", Premier Guitar).
    bareFluent: [60, 130, 400, 450],
    bareEachSecond: 400,
    // Hold a chord with as few fingers as possible and move only the melody (G. Ruby, Acoustic Guitar, 2022).
    heldFluent: [0, 5, 20, 60],
    heldEachSecond: 40,
    // An octave or a fifth alone no longer says which chord it is. Common practice.
    heldHollowEachSecond: 400,
    // A passing note may take the third's string; where it stays the chord is another. Common practice.
    heldLackingGuideEachSecond: 600,
    lackingGuideFromSeconds: 0.5,
    // What has thinned out is filled again on a strong beat. Common practice.
    noteShortFluent: [60, 90, 190, 220],
    heldWhereStrikeIsDue: 380,
    struckAgain: [260, 160, 60, 15],
    // The tones that a kept grip lacks under its new top were heard just before. Common practice.
    gripStruckAgain: 60,
    shareOfLackingAgain: 0.25,
    lowestAgainEachSecond: 1.3,
    // Under its leading tone a dominant sounds as a major seventh chord. Common practice.
    struckAgainstSeventh: 150,
    heldLean: 60,
    bareChordChange: 2500,
    bareAnticipation: 150,
    // Full: it has the chord that is there. Common practice.
    bareQuickFull: 110,
    bareFull: 20000,
    struckInHasteEachTenth: 90,
    hasteSeconds: 0.3,
    quickSeconds: 0.4,
    atOnceSeconds: 0.2,
    wideAtTempoEachMm: 34,
    calmSeconds: 2,
    calmShare: 0.33,
  },
  // Bass first, then what completes the chord, then the rest: the order in which players reduce a score
  // (common practice). The sizes were chosen so that a hand gives up a doubled voice before it stretches, and
  // a tone of the chord only before a move beyond its limit.
  sung: {
    bassNotLowest: 300,
    toneLeftOut: 180,
    voiceLeftOut: 20,
    bassDoubledOnly: 60,
    heldOverPercent: 45,
    shortPercent: 60,
    shortSeconds: 0.35,
    bassOctave: 60,
    voiceOctave: 90,
    lineBroken: 60,
    struckAgain: 40,
    notStruckWhenSung: 120,
    // Fingers pluck strings apart from one another; a little less easily than neighbours. Common practice.
    silentInnerString: 8,
    silentStringAboveLowest: 8,
    ringingInnerString: 0,
    noteBeyondFour: 0,
    openString: 2,
  },
  // Right-hand complexity weighs 2 where spread weighs 3 (Velez Vasquez et al., ISMIR 2023), and its two hardest
  // grades are one inner string skipped, and several: that is the hand with a pick, which brushes through what lies
  // between and has to damp it. The sizes are those of damping in `voicing`, and of striking again in `sung`.
  // Fingers skip strings; there are four of them. Common practice.
  rightHand: {
    fingers: { silentInnerString: 8, silentStringAboveLowest: 8, ringingInnerString: 0, noteBeyondFour: 40 },
    pick: {
      silentInnerString: 140,
      silentStringAboveLowest: 45,
      ringingInnerString: 120,
      noteBeyondFour: 0,
    },
  },
  // What is learned once is played alike wherever it comes again, unless getting there is hard. Common practice.
  sameness: { eachMeasure: 500 },
};

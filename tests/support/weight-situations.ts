import { singleNotes } from "../../src/arranging/candidates/columns.js";
import { aloneAmongVoices, sungGrips } from "../../src/arranging/candidates/sung-grips.js";
import { sungPoints } from "../../src/arranging/candidates/sung-placements.js";
import { bassAgainCost } from "../../src/arranging/costs/bass-again-cost.js";
import { brokenLines } from "../../src/arranging/costs/broken-lines.js";
import type { CostTable } from "../../src/arranging/costs/cost-table.js";
import { fingerChangeCost } from "../../src/arranging/costs/finger-cost.js";
import { gripAgainCost } from "../../src/arranging/costs/grip-again-cost.js";
import { lostToMelody } from "../../src/arranging/costs/lost-to-melody.js";
import { type MoveTerms, moveCosts, wayCost } from "../../src/arranging/costs/move-cost.js";
import { onRootCost } from "../../src/arranging/costs/on-root-cost.js";
import { wideAtTempoCost } from "../../src/arranging/costs/reach-cost.js";
import { releaseCost } from "../../src/arranging/costs/release-cost.js";
import { rightHandCost, withRightHand } from "../../src/arranging/costs/right-hand-cost.js";
import { ringingCost } from "../../src/arranging/costs/ringing-cost.js";
import { voiceLeadingCost } from "../../src/arranging/costs/voice-leading.js";
import { melodyPlaceCost, voicingCost } from "../../src/arranging/costs/voicing-cost.js";
import type { TuneEvent } from "../../src/arranging/events/tune-events.js";
import { type Candidate, candidates } from "../../src/arranging/grips/candidate.js";
import { packedColumn } from "../../src/arranging/grips/packed-column.js";
import { type Texture, textureNamed } from "../../src/arranging/textures/texture.js";
import { holdingEffort } from "../../src/guitar/hand-effort.js";
import { midiAt } from "../../src/guitar/instrument.js";
import { supportPlan } from "../../src/harmony/support-plan.js";
import type { Restrike, TextureName } from "../../src/options/options.js";
import { midiPitch } from "../../src/song/pitch.js";
import type { SoundingNote } from "../../src/song/voices.js";
import { candidateFrom } from "./candidate-from.js";
import { chordNamed } from "./chord-named.js";
import { GUITAR, gripFrom } from "./guitar.js";

/** Two ways to play something; the weight named makes the first the cheaper. */
export interface Situation {
  /** "voicing.hole", "hand.finger.2". */
  readonly weight: string;
  readonly because: string;
  readonly better: (costs: CostTable) => number;
  readonly worse: (costs: CostTable) => number;
}

// ---- how a hand holds a grip ----

const held =
  (diagram: string) =>
  ({ hand }: CostTable): number => {
    const { strings, fingers } = gripFrom(diagram);
    return holdingEffort(GUITAR, strings, fingers, hand);
  };

/** Better and worse fingers or grips: "fret:finger" from string 6 up. */
const HOLDING: readonly (readonly [weight: string, better: string, worse: string, because: string])[] = [
  ["finger.1", "7:2 8:4 x 0 7:3 x", "7:1 8:4 x 0 7:3 x", "the index finger is not put down for nothing"],
  ["finger.2", "x x x 10:3 9:1 9:1", "x x x 10:3 9:1 9:2", "a small barre spares the middle finger"],
  ["finger.3", "x x x 8:1 x 8:1", "x x x 8:3 x 8:4", "one finger bars what the ring finger would share"],
  ["finger.4", "x x x 10:3 9:2 9:1", "x x x 10:4 9:1 9:3", "the weakest finger is spared"],
  ["stretchEachMm.12", "8:3 x x 8:4 0 5:1", "8:4 x x 8:2 0 5:1", "index and middle finger stay a fret apart"],
  [
    "stretchEachMm.13",
    "x x 1:2 4:4 2:3 x",
    "x x 1:1 4:3 2:2 x",
    "index and ring finger stay two frets apart",
  ],
  ["stretchEachMm.23", "9:4 6:2 x 6:2 x x", "9:3 6:1 x 6:2 x x", "middle and ring finger stay a fret apart"],
  [
    "stretchEachMm.24",
    "3:1 x 3:1 6:3 4:2 x",
    "3:2 x 3:2 6:4 4:3 x",
    "middle and little finger stay two frets apart",
  ],
  [
    "stretchEachMm.34",
    "8:1 11:2 x x x x",
    "8:3 11:4 x x x x",
    "ring and little finger do not reach over three frets",
  ],
  ["squeezeEachMm", "1:1 1:3 1:3 x 1:1 x", "1:3 1:4 1:2 x 1:1 x", "three fingers do not crowd into one fret"],
  [
    "strainEachMm",
    "x 1:1 3:3 3:3 3:3 x",
    "x 1:1 3:2 3:3 3:4 x",
    "no pair of fingers goes beyond its relaxed span",
  ],
  [
    "fingersCrossed",
    "7:1 7:1 7:3 x 7:3 x",
    "7:4 7:3 7:2 x 7:1 x",
    "at one fret the lower string has the lower finger",
  ],
  ["fingerSkipped", "1:2 1:2 1:2 x 1:1 x", "1:1 1:1 1:4 x 1:1 x", "no idle finger between two at one fret"],
  [
    "littleFingerOnLowerString",
    "x x x 10:3 9:2 9:2",
    "x x x 10:4 9:2 9:1",
    "the little finger is for the higher strings",
  ],
  ["indexBarre", "x 5:4 2:2 2:1 3:3 x", "x 5:3 2:1 2:1 3:2 x", "two fingers rather than a barre"],
  [
    "indexBarreEachString",
    "1:1 1:4 1:3 x 1:3 x",
    "1:1 1:2 1:4 x 1:1 x",
    "a barre of few strings rather than of many",
  ],
  ["otherBarre", "1:1 1:1 1:4 x 1:1 x", "1:2 1:2 1:3 x 1:3 x", "the index finger bars, not the others"],
  [
    "otherBarreEachString",
    "7:1 7:4 7:4 x 7:1 x",
    "7:2 7:3 7:2 x 7:3 x",
    "other fingers bar two strings, not three",
  ],
  [
    "barreBelowOpenString",
    "x x 3:1 3:3 5:4 0",
    "x x 3:2 3:2 5:4 0",
    "a barre would damp the open string above it",
  ],
  [
    "barreRoundNextFret",
    "11:1 12:4 11:2 x x x",
    "11:1 12:3 11:1 x x x",
    "no barre round a note at the next fret",
  ],
  [
    "fingerBesideBarre",
    "1:2 1:4 1:3 x 1:1 x",
    "1:1 1:3 1:1 x 1:3 x",
    "a barre takes all there is at its fret",
  ],
  ["barreNearNut", "1:2 1:4 1:3 x 1:1 x", "1:3 1:3 1:1 x 1:1 x", "next to the nut a barre is hardest"],
  [
    "behindNutEachFret",
    "1:3 1:4 1:3 x 1:1 x",
    "1:4 1:3 1:4 x 1:3 x",
    "the index finger does not lie behind the nut",
  ],
  [
    "openOutOfFirstPositionEachFret",
    "x x x x 0 4:4",
    "x x x x 0 4:1",
    "among open strings the hand is in first position",
  ],
  [
    "crampedEachMm",
    "0 x x 1:3 1:1 3:4",
    "13:2 x 14:3 11:1 x 11:1",
    "lower on the neck the frets are wide enough",
  ],
  ["pastBodyEachFret", "x x 6:3 0 6:1 8:4", "13:2 x 14:3 11:1 x 11:1", "the body is in the way"],
  ["spanEachMm", "x 2:1 x x x 4:2", "6:4 4:2 3:1 x x x", "a narrow grip rather than a wide one"],
  ["spanEachFret", "11:4 x 10:2 9:1 x 0", "9:1 13:4 x x x x", "four frets rather than five, however near"],
  ["wideSpanEachMm", "x 6:3 x 6:3 5:1 8:4", "x x 4:3 0 1:1 0", "at the nut four frets are wide"],
];

// ---- what a grip sounds ----

/** A grip without fingers over a chord, its highest string the melody. */
const voiced =
  (symbol: string, diagram: string, notesAsked: "auto" | 4 = "auto") =>
  ({ voicing }: CostTable): number => {
    const notes = gripFrom(diagram).strings.map((note) => ({
      ...note,
      midi: midiAt(GUITAR, note.string, note.fret),
    }));
    const melody = notes.at(-1);
    if (melody === undefined) throw new Error("a grip has a melody note");
    const plan = supportPlan(chordNamed(symbol), melody.midi % 12, notesAsked);
    const instead = plan.instead === undefined ? [] : [plan.instead.tone];
    const bass = plan.bass === undefined ? [] : [plan.bass];
    const stays = plan.mayStay === undefined ? [] : [plan.mayStay];
    const known = [...plan.wanted, ...plan.mayDouble, ...stays, ...instead, ...bass];
    const supports = notes.slice(0, -1).map((note) => {
      const tone = known.find(({ pitchClass }) => pitchClass === note.midi % 12);
      if (tone === undefined) throw new Error(`${symbol} has nothing at ${note.string}:${note.fret}`);
      return { ...note, tone };
    });
    return voicingCost(GUITAR, supports, melody, melody.midi, plan, voicing);
  };

const VOICING: readonly (readonly [
  weight: string,
  symbol: string,
  better: string,
  worse: string,
  because: string,
  notes?: 4,
])[] = [
  ["missing.guide", "C7", "x x 8 9 8 10", "x x 10 9 8 10", "a seventh chord has its guide tones"],
  ["missing.colour", "G13", "x x 3 4 5 6", "x x 3 4 3 6", "what the symbol alters is there"],
  [
    "missing.extension",
    "G13",
    "x x 5 2 0 1",
    "x 5 5 4 6 x",
    "the ninth of a thirteenth chord goes after its fifth and root",
  ],
  ["missing.root", "G9", "x x 5 4 6 5", "x x 3 4 3 5", "a chord has its root where it lies under the hand"],
  ["missing.fifth", "C", "8 10 10 9 x 8", "x x 10 9 x 8", "a triad has its fifth"],
  ["noteFewer", "Am7", "x x 2 0 3 x", "x x x 0 3 x", "four notes for a seventh chord"],
  [
    "noteFewerInLowShell",
    "C7",
    "8 7 8 7 x x",
    "x 7 8 7 x x",
    "four notes where the melody leaves room for them",
  ],
  ["fifthNote", "G7", "3 x 3 4 3 x", "3 5 3 4 3 x", "four notes are enough for a seventh chord"],
  ["slashBassNotLowest", "Am7/G", "3 x 2 2 2 x", "x 0 2 0 2 x", "the slash bass is lowest"],
  ["doubledInFullTriad", "C", "x x 5 5 6 x", "x 3 5 5 6 x", "three notes are enough for a triad"],
  ["soundsAsOtherChord", "Am", "12 12 10 12 x x", "x 15 14 12 x x", "A minor does not sound as C major"],
  ["soundsAsOtherChord", "Em/G", "3 x 2 4 3 x", "x x 5 4 3 x", "E minor over G does not sound as G major"],
  ["soundsAsOtherChord", "Cm", "x x 5 5 4 7", "x x 5 8 8 7", "C minor under B is not augmented"],
  [
    "fourthsOnLowerStrings",
    "Am7",
    "x 0 2 0 1 x",
    "x 0 0 0 1 x",
    "fourths lie on the four highest strings",
    4,
  ],
  ["fourthsForFifth", "Am7", "x x 7 9 8 8", "x x 7 7 8 8", "a plain minor seventh has its fifth"],
  ["fifthForFourths", "Am7", "x x 7 7 8 8", "x x 7 9 8 8", "fourths under the third of a minor seventh", 4],
  ["unknownShape", "Am7", "x x 7 5 8 10", "x x 5 5 10 10", "a shape that players know"],
  ["silentInnerString", "Am7", "x x 10 9 8 5", "x 10 10 9 x 5", "no silent strings inside the grip"],
  ["silentStringAboveLowest", "Cmaj7", "x x 2 4 1 3", "x 3 x 4 5 3", "neighbours from the lowest note on"],
  ["spreadThreeNotes", "C", "x 7 x 5 8 6", "x x 5 x 5 6", "three notes within an octave"],
  ["hole", "C", "x 7 x 5 8 5", "8 x 14 12 10 x", "no hole of more than an octave"],
  ["gapUnderMelodyEachSemitone", "C", "x 7 10 9 10 x", "x 7 5 5 10 x", "the chord is near under the melody"],
  ["nearSemitones", "Am7", "5 x 2 0 3 x", "5 7 10 7 x x", "a fifth under the melody is near enough"],
  [
    "crowdedMelodyEachSemitone",
    "Cmaj7",
    "x x 5 5 5 7",
    "x x 10 9 8 7",
    "the melody has room over four notes",
  ],
  ["roomySemitones", "Cmaj7", "x x 5 5 5 7", "x x 10 9 8 7", "that room is a fourth"],
  [
    "underLowIntervalLimitEachSemitone",
    "Am7",
    "8 7 5 x 0 x",
    "3 3 7 x 0 x",
    "no narrow intervals so low that they blur",
  ],
  ["lowestNotRootOrFifth", "Am7", "5 x 5 5 5 x", "x 3 5 2 5 x", "a low third is no bass"],
  ["deepEachSemitone", "C7", "x 7 x 3 3 x", "0 x 5 3 3 x", "the lower a third, the less it is a bass"],
  ["deepBelowMidi", "C7", "x 7 x 3 3 x", "0 x 5 3 3 x", "from C3 down it is mud"],
  [
    "bassStringBelowMidi",
    "C6",
    "x 10 x 14 13 12",
    "x 12 x 12 13 12",
    "a sixth chord does not stand on its sixth on the fifth string",
  ],
  ["lowestIsFifth", "C7", "x 3 2 3 1 x", "3 x 2 3 1 x", "the root is lowest rather than the fifth"],
  ["threeHighestStrings", "F", "x x 3 2 1 1", "x x x 2 1 1", "a fourth note lies under the same hand"],
  ["bassBelowMidi", "Am7", "5 x 5 5 5 x", "x 3 5 2 5 x", "a note under E3 is heard as bass"],
  ["lowToneNotRootOrFifth", "Cmaj7", "0 3 5 x 3 x", "3 2 x 5 3 x", "no third in the mud above the bass"],
  ["mudBelowMidi", "Cmaj7", "0 3 5 x 3 x", "3 2 x 5 3 x", "that mud begins under D3"],
  ["lowestIsTension", "C6", "x x 2 5 x x", "x x 7 5 x x", "the sixth is no lowest note"],
  [
    "minorNinthBetweenSupports",
    "Cmaj7",
    "x 15 x 12 12 12",
    "x 14 x 12 13 12",
    "no minor ninth among the supports",
  ],
  ["semitoneBetweenSupports", "Cmaj7", "x 3 2 4 x 5", "x 7 9 5 x 5", "no semitone among the supports"],
  [
    "askedMinorNinthUnderMelody",
    "G7(b9)",
    "x 8 9 13 x x",
    "15 14 12 13 x x",
    "even where it is asked for, a minor ninth is sharp",
  ],
  [
    "melodyString.2",
    "C",
    "x 7 10 9 7 x",
    "x 15 14 11 x x",
    "the melody speaks better on string 2 than on string 3",
  ],
  ["melodyPastBody", "C", "x x 10 9 8 10", "x x 14 12 15 x", "the melody stays off the body"],
  ["openString", "C", "x 7 5 5 3 x", "x 3 2 0 3 x", "stopped strings are of one tone"],
  ["allOpen", "G7", "x 5 3 0 5 x", "x x 0 0 0 0", "some of a grip is stopped"],
  ["openUnderHighHand", "C", "x x 14 x 13 11", "x 7 x 0 8 11", "no open string under a high hand"],
  ["highHandFret", "C", "x x 2 0 1 3", "x x x 5 5 3", "a hand is high from the sixth fret on"],
  [
    "openUnderHighHandEachFret",
    "Am7",
    "x x 5 2 1 0",
    "x 0 5 5 5 x",
    "the higher the hand, the stranger the open strings",
  ],
  ["nearNutFret", "Cmaj7", "x 3 x 0 0 0", "x 14 x 12 13 12", "up to the fourth fret they go together"],
  ["thickStringHighEachFret", "E7", "x 7 x 7 9 7", "12 x 12 13 12 x", "the sixth string is dull high up"],
  ["thickStringHighFret", "C", "8 10 10 9 8 x", "x 3 2 0 1 3", "the eighth fret is not yet high"],
  [
    "thickStringTurnedTo",
    "C",
    "x 7 5 7 x x",
    "8 7 5 7 x x",
    "the hand does not turn round for the sixth string",
  ],
  ["thickStringBelowMidi", "E7", "x 7 x 7 9 7", "12 x 12 13 12 x", "it is the sixth string that is thick"],
];

/** The melody note alone on one string, in the easiest way. */
const alone =
  (midi: number, string: number) =>
  (costs: CostTable): number =>
    Math.min(
      ...singleNotes(midi, { instrument: GUITAR, melodyStrings: [string] }, 0, costs).map(({ cost }) => cost),
    );

const pluckedAloneOn =
  (string: number) =>
  ({ voicing }: CostTable): number =>
    melodyPlaceCost(GUITAR, { string, fret: 5 }, voicing, true);

const releases =
  (...degrees: readonly string[]) =>
  ({ voicing }: CostTable): number =>
    releaseCost(degrees, chordNamed("Cmaj7"), voicing);

const lowest =
  (midi: number, isEnd = false) =>
  ({ voicing }: CostTable): number =>
    onRootCost(midi, chordNamed("C"), isEnd, voicing);

// ---- from one grip to the next ----

const TERMS: MoveTerms = {
  seconds: 4,
  texture: "fluent",
  mmPerSecond: 2000,
  isRepeated: false,
  isSameChord: false,
};
const TEXTURES: readonly TextureName[] = ["full", "fluent", "lean", "voices"];

const way =
  (mm: number, terms: Partial<MoveTerms> = {}) =>
  ({ move }: CostTable): number =>
    wayCost(mm, { ...TERMS, ...terms }, move);

/** A struck grip, "fret:finger" from string 6 up; the highest is the melody. With `isHeld` what is under it rings on. */
function struck(diagram: string, isHeld = false): Candidate {
  const { strings } = gripFrom(diagram);
  const grip = candidateFrom(diagram, isHeld ? "held" : strings.length === 1 ? "single" : "struck");
  // Over open strings the hand is where it is: here it has no way to go.
  return strings.some(({ fret }) => fret > 0) ? grip : { ...grip, placeMm: undefined };
}

const column = (diagram: string) => packedColumn([struck(diagram)]);

const changed =
  (from: string, to: string, terms: Partial<MoveTerms> = {}) =>
  ({ move }: CostTable): number =>
    moveCosts(column(from), column(to), { ...TERMS, ...terms }, move)(0, 0);

/** A melody that goes on over what rings: nothing but its way across the strings counts. */
const lineOver =
  (from: string, to: string) =>
  ({ move }: CostTable): number =>
    moveCosts(packedColumn([struck(from)]), packedColumn([struck(to, true)]), TERMS, {
      ...move,
      fingers: { putDown: 0, slid: 0, crossed: 0, barreChanged: 0, exchanged: 0, flatFingerRaised: 0 },
    })(0, 0);

const fingersChanged =
  (from: string, to: string) =>
  ({ move }: CostTable): number =>
    fingerChangeCost(column(from), 0, column(to), 0, move.fingers);

const voicesMoved =
  (from: string, to: string, texture: TextureName = "fluent") =>
  ({ move }: CostTable): number =>
    voiceLeadingCost(column(from), 0, column(to), 0, texture, move.voices);

const sum =
  (...parts: readonly ((costs: CostTable) => number)[]) =>
  (costs: CostTable): number =>
    parts.reduce((points, part) => points + part(costs), 0);

// ---- what a texture makes of a moment ----

const asEvent = (given: Partial<TuneEvent> & { readonly midi?: number }): TuneEvent =>
  ({
    weight: 0,
    seconds: 0,
    isChordChange: false,
    isNoteOnset: true,
    chord: chordNamed("C"),
    note: { midi: given.midi ?? 64 },
    ...given,
  }) as TuneEvent;

type Way = Exclude<keyof Texture, "isMissed">;

const asked =
  (name: TextureName, play: Way, given: Parameters<typeof asEvent>[0] = {}, restrike: Restrike = "change") =>
  (costs: CostTable): number =>
    textureNamed(name, costs, restrike)[play](asEvent(given)) ?? Number.POSITIVE_INFINITY;

const wide =
  (mm: number, seconds: number) =>
  ({ texture }: CostTable): number =>
    wideAtTempoCost(mm, seconds, texture);

/** The grip that is there struck again under a melody note. */
const struckAgain =
  (symbol: string, melody: number, diagram: string, degrees: readonly string[], sungBefore?: number) =>
  (costs: CostTable): number =>
    gripAgainCost(
      degrees,
      gripFrom(diagram).strings,
      supportPlan(chordNamed(symbol), melody % 12, "auto"),
      sungBefore,
      costs,
    );

/** What is left of a chord that rings on under a melody note. */
const leftRinging =
  (symbol: string, melody: number, degrees: readonly string[], moment: Parameters<typeof asEvent>[0] = {}) =>
  (costs: CostTable): number =>
    ringingCost(
      degrees,
      supportPlan(chordNamed(symbol), melody, "auto"),
      textureNamed("fluent", costs, "change").noteShortCost(asEvent({ seconds: 1, ...moment })),
      moment.seconds ?? 1,
      costs.texture,
    );

const bassGoesOn =
  (symbol: string, degree: string, midi: number) =>
  (costs: CostTable): number =>
    bassAgainCost(supportPlan(chordNamed(symbol), 7, "auto"), 1, costs)(degree, midi);

/** What the melody of a later grip takes of an earlier one. */
const taken =
  (symbol: string, from: string, to: string) =>
  ({ voicing }: CostTable): number => {
    const chord = chordNamed(symbol);
    const plain = struck(from);
    const degrees = plain.midis
      .slice(0, -1)
      .map((midi) => chord.tones.find(({ pitchClass }) => pitchClass === midi % 12)?.label ?? "");
    const [earlier] = candidates(GUITAR, { ...plain, supports: undefined, degrees });
    const later = struck(to);
    const string = later.strings.at(-1)?.string ?? 0;
    return lostToMelody(
      packedColumn(earlier ? [earlier] : []),
      packedColumn([later]),
      chord,
      voicing,
    )(0, string);
  };

// ---- what the voices of an ensemble sing ----

/** Voices by their MIDI numbers, lowest first, of which some are put on strings: voice, string, fret. */
const sung =
  (
    midis: readonly number[],
    placed: readonly (readonly [voice: number, string: number, fret: number])[],
    { begins = true, isShort = false }: { readonly begins?: boolean; readonly isShort?: boolean } = {},
  ) =>
  (costs: CostTable): number => {
    const pitches = midis.map((midi, voice) => ({
      midi,
      pitch: midiPitch(midi),
      voice,
      begins,
      isHeldOver: !begins,
      isBassLine: false,
    }));
    const supports = placed.flatMap(([voice, string, fret]) => {
      const one = pitches[voice];
      const midi = midiAt(GUITAR, string, fret);
      return one === undefined ? [] : [{ string, fret, midi, sung: one, octaves: (midi - one.midi) / 12 }];
    });
    return sungPoints(supports, undefined, pitches, isShort, costs.sung);
  };

/** Plucking some strings, by the right hand that a weight is one of. */
const plucked =
  (weight: string, strings: readonly number[], ringing: readonly number[] = []) =>
  (costs: CostTable): number =>
    rightHandCost(
      strings.map((string) => ({ string })),
      ringing,
      withRightHand(costs, HANDS.find((hand) => weight.startsWith(`rightHand.${hand}.`)) ?? "either").sung,
    );

const HANDS = ["fingers", "pick"] as const;

/** The E of a voice under a tune that comes to A3 on the next string: held over, and begun anew by another voice. */
const E_HELD: SoundingNote = {
  voice: 1,
  note: { onset: 0, length: 8, pitch: midiPitch(52), midi: 52, isMelody: false },
};
const E_BEGUN: SoundingNote = { voice: 2, note: { ...E_HELD.note, onset: 4, length: 4 } };

/** The cheapest way with that note as it was held before, ringing on or struck again. */
const heldVoice =
  (rings: boolean, sounding: readonly SoundingNote[]) =>
  (costs: CostTable): number => {
    const board = { instrument: GUITAR, melodyStrings: [3] };
    const ways = sungGrips(
      asEvent({ onset: 4, seconds: 1, midi: 57 }),
      [struck("x x 2:1 0 x x")],
      sounding,
      board,
      { fingered: new Map() },
      costs,
    );
    const there = ways.filter(
      (one) => one.strings[0]?.string === 4 && one.fingers[0] === 1 && rings === (one.attack === "held"),
    );
    return Math.min(...there.map(({ cost }) => cost));
  };

/** What it costs that a voice is not played, at a moment of so many seconds. */
const voiceSilent =
  (seconds: number) =>
  (costs: CostTable): number =>
    aloneAmongVoices(asEvent({ onset: 4, seconds, midi: 67 }), [E_BEGUN], costs);

const lineFrom =
  (octavesBefore: number, octavesAfter: number) =>
  (costs: CostTable): number => {
    const sings = (octaves: number) => [{ voice: 1, octaves, pitch: midiPitch(52), isBassLine: false }];
    return brokenLines(sings(octavesBefore), sings(octavesAfter), costs.sung);
  };

/** A support that moves so many semitones on string 4 under a melody that stays. */
const supportUp = (semitones: number) => [`x x 1:1 x x 0`, `x x ${1 + semitones}:1 x x 0`] as const;

const at = (weight: number): { readonly weight: 0 | 1 | 2 | 3 } => ({ weight: weight as 0 | 1 | 2 | 3 });

const PLUCKED: readonly (readonly [
  weight: string,
  better: readonly number[],
  worse: readonly number[],
  because: string,
  ringing?: readonly number[],
])[] = [
  ["sung.silentInnerString", [5, 4], [5, 3], "neighbouring strings are plucked more easily"],
  ["sung.silentStringAboveLowest", [5, 4, 3], [6, 4, 3], "so they are over a bass"],
  ["rightHand.fingers.silentInnerString", [5, 4], [5, 2], "fingers reach neighbours a little more easily"],
  ["rightHand.fingers.silentStringAboveLowest", [5, 4, 3], [6, 4, 3], "the thumb as well"],
  ["rightHand.fingers.noteBeyondFour", [5, 4, 3, 2], [5, 4, 3, 2, 1], "there are four fingers to pluck with"],
  ["rightHand.pick.silentInnerString", [5, 4], [5, 2], "a pick strikes neighbours"],
  [
    "rightHand.pick.silentStringAboveLowest",
    [5, 4, 3],
    [6, 4, 3],
    "a pick would rather not skip the string over the bass",
  ],
  [
    "rightHand.pick.ringingInnerString",
    [5, 4],
    [5, 3],
    "a pick does not get past a string that rings on",
    [4],
  ],
];

export const SITUATIONS: readonly Situation[] = [
  ...HOLDING.map(([weight, better, worse, because]) => ({
    weight: `hand.${weight}`,
    because,
    better: held(better),
    worse: held(worse),
  })),
  ...VOICING.map(([weight, symbol, better, worse, because, notes]) => ({
    weight: `voicing.${weight}`,
    because,
    better: voiced(symbol, better, notes),
    worse: voiced(symbol, worse, notes),
  })),
  // D3 lies on strings 4, 5 and 6, B3 on 3 and 4 too.
  ...[
    [3, 59],
    [4, 50],
    [5, 50],
  ].map(([index = 0, midi = 0]) => ({
    weight: `voicing.melodyString.${index}`,
    because: `a melody note on string ${index} speaks better than on string ${index + 1}`,
    better: alone(midi, index),
    worse: alone(midi, index + 1),
  })),
  {
    weight: "voicing.notOnRootAtEnd",
    because: "a tune ends on the root of its last chord",
    better: lowest(48, true),
    worse: lowest(52, true),
  },
  {
    weight: "voicing.notOnRoot",
    because: "the root under a chord names it",
    better: lowest(48),
    worse: lowest(52),
  },
  {
    weight: "voicing.onHighRoot",
    because: "a root is a bass where it is low",
    better: lowest(48),
    worse: lowest(60),
  },
  {
    weight: "voicing.rootIsBassBelowMidi",
    because: "a root on the fifth string is a bass",
    better: lowest(48),
    worse: lowest(60),
  },
  {
    weight: "voicing.droppedWhileHeld.guideOrRoot",
    because: "the third is the last to be let go",
    better: releases("5"),
    worse: releases("3"),
  },
  {
    weight: "voicing.droppedWhileHeld.other",
    because: "nothing is let go for nothing",
    better: releases(),
    worse: releases("5"),
  },
  {
    weight: "voicing.shareOfStringPluckedAlone",
    because: "a line, too, speaks best on the highest strings",
    better: pluckedAloneOn(1),
    worse: pluckedAloneOn(3),
  },
  {
    weight: "move.travel.eachMm",
    because: "a near grip rather than a far one",
    better: way(20),
    worse: way(40),
  },
  {
    weight: "move.travel.longFromMm",
    because: "two short shifts rather than a long one",
    better: sum(way(60), way(60)),
    worse: way(120),
  },
  {
    weight: "move.travel.longEachMm",
    because: "two short shifts rather than a long one",
    better: sum(way(60), way(60)),
    worse: way(120),
  },
  {
    weight: "move.travel.shareOfNoteForShift",
    because: "a long note leaves time for a shift",
    better: way(50, { seconds: 2 }),
    worse: way(50, { seconds: 0.2 }),
  },
  {
    weight: "move.travel.leastShiftSeconds",
    because: "without any time, too, near is better than far",
    better: way(20, { seconds: 0 }),
    worse: way(40, { seconds: 0 }),
  },
  {
    weight: "move.travel.easyMmPerSecond",
    because: "at an easy speed the way alone counts",
    better: way(20),
    worse: way(40),
  },
  {
    weight: "move.travel.hurriedEachMm",
    because: "a shift without hurry",
    better: way(100, { seconds: 2 }),
    worse: way(100, { seconds: 0.3 }),
  },
  ...TEXTURES.flatMap((texture) => [
    {
      weight: `move.travel.scale.${texture}`,
      because: `a near grip in the ${texture} texture`,
      better: way(20, { texture }),
      worse: way(40, { texture }),
    },
    {
      weight: `move.tooFast.${texture}`,
      because: `no move beyond the limit in the ${texture} texture`,
      better: way(40, { texture, mmPerSecond: 200 }),
      worse: way(40, { texture, mmPerSecond: 5 }),
    },
  ]),
  {
    weight: "move.fingers.putDown",
    because: "a finger that stays is not put down again",
    better: fingersChanged("x x 5:1 x x x", "x x 5:1 x x x"),
    worse: fingersChanged("x x x 0 x x", "x x 5:1 x x x"),
  },
  {
    weight: "move.fingers.slid",
    because: "a finger stays rather than slide",
    better: fingersChanged("x x 5:1 x x x", "x x 5:1 x x x"),
    worse: fingersChanged("x x 5:1 x x x", "x x 7:1 x x x"),
  },
  {
    weight: "move.fingers.crossed",
    because: "a finger slides rather than go to another string",
    better: fingersChanged("x x 5:1 x x x", "x x 7:1 x x x"),
    worse: fingersChanged("x x 5:1 x x x", "x x x 7:1 x x"),
  },
  {
    weight: "move.fingers.barreChanged",
    because: "a barre stays as wide as it is",
    better: fingersChanged("x x 5:1 5:1 x x", "x x 5:1 5:1 x x"),
    worse: fingersChanged("x x 5:1 5:1 x x", "x x 5:1 5:1 5:1 x"),
  },
  {
    weight: "move.fingers.exchanged",
    because: "what stays at its place stays under its finger",
    better: fingersChanged("x x 8:3 x x x", "x x 8:3 8:4 x x"),
    worse: fingersChanged("x x 8:3 x x x", "x x 8:1 8:1 x x"),
  },
  {
    weight: "move.fingers.flatFingerRaised",
    because: "a ring finger that lies flat is not raised for the middle finger behind it",
    better: fingersChanged("x 6:1 8:3 8:3 8:3 x", "x 6:1 8:3 8:3 9:4 x"),
    worse: fingersChanged("x 6:1 8:3 8:3 8:3 x", "x 6:1 8:3 8:3 7:2 x"),
  },
  ...Array.from({ length: 12 }, (_, index) => ({
    weight: `move.voices.eachVoice.${index + 1}`,
    because: `an inner voice moves ${index} semitones rather than ${index + 1}`,
    better: voicesMoved(...supportUp(index)),
    worse: voicesMoved(...supportUp(index + 1)),
  })),
  {
    weight: "move.voices.melodyStepSemitones",
    because: "under a melody step an inner voice may as well stay",
    better: voicesMoved("x x 1:1 x x 1:2", "x x 1:1 x x 3:4"),
    worse: voicesMoved("x x 1:1 x x 1:2", "x x 3:1 x x 3:4"),
  },
  {
    weight: "move.voices.bassShare",
    because: "a bass goes to its root by a step rather than by a leap",
    better: voicesMoved("x 5:1 5:1 5:1 5:1 x", "x 7:1 5:1 5:1 5:1 x"),
    worse: voicesMoved("x 5:1 5:1 5:1 5:1 x", "x 0 5:1 5:1 5:1 x"),
  },
  {
    weight: "move.voices.bassComesOrGoes",
    because: "a bass stays under the voices",
    better: voicesMoved("x 0 x 0 0 0", "x 0 x 0 0 0"),
    worse: voicesMoved("x 0 x 0 0 0", "x x x 0 0 0"),
  },
  {
    weight: "move.voices.voiceComesOrGoes",
    because: "as many voices as before",
    better: voicesMoved("x x 0 0 x 0", "x x 0 0 x 0"),
    worse: voicesMoved("x x 0 0 x 0", "x x 0 x x 0"),
  },
  ...(["full", "fluent", "lean"] as const).flatMap((texture) => [
    {
      weight: `move.voices.scale.${texture}`,
      because: `an inner voice stays in the ${texture} texture`,
      better: voicesMoved(...supportUp(0), texture),
      worse: voicesMoved(...supportUp(3), texture),
    },
    // Both sound D3 G3 B3: on the strings that are left open next, and with the D on the string below.
    {
      weight: `move.stringSetChanged.${texture}`,
      because: `the grip stays on its strings in the ${texture} texture`,
      better: changed("x x 0 0 0 x", "x x 0 0 0 x", { texture }),
      worse: changed("x 5:1 x 0 0 x", "x x 0 0 0 x", { texture }),
    },
  ]),
  {
    weight: "move.underOneChord",
    because: "the hand leaves its grip where the chord changes rather than under one chord",
    better: way(40),
    worse: way(40, { isSameChord: true }),
  },
  {
    weight: "move.regrippedOnRepeat",
    because: "a note repeated over its chord keeps the grip",
    better: changed("x x 0 0 0 x", "x x 2:2 0 0 x"),
    worse: changed("x x 0 0 0 x", "x x 2:2 0 0 x", { isRepeated: true }),
  },
  {
    weight: "move.lineCrossed",
    because: "over a chord that rings on a line goes down where it came up",
    better: lineOver("x 3:2 x x 5:4 x", "x 3:2 x 4:3 x x"),
    worse: lineOver("x 3:2 x 5:4 x x", "x 3:2 x x 0 x"),
  },
  {
    weight: "move.inAndOutOfHarmony",
    because: "single notes in a row rather than in and out of harmony",
    better: changed("x x x x 0 x", "x x x x 0 x"),
    worse: changed("x x x x 0 x", "x x 0 0 0 x"),
  },
  ...[0, 1, 2, 3].map((weight) => ({
    weight: `texture.bareFluent.${weight}`,
    because: `a note of metric weight ${weight} under a chord is missed more than one under none`,
    better: asked("fluent", "singleCost", { ...at(weight), chord: undefined }),
    worse: asked("fluent", "singleCost", at(weight)),
  })),
  {
    weight: "texture.bareEachSecond",
    because: "the longer the note, the more its chord is missed",
    better: asked("fluent", "singleCost", { seconds: 0.5 }),
    worse: asked("fluent", "singleCost", { seconds: 2 }),
  },
  ...[1, 2, 3].map((weight) => ({
    weight: `texture.heldFluent.${weight}`,
    because: `on metric weight ${weight} a chord is struck rather than off the beat`,
    better: asked("fluent", "heldCost", at(0)),
    worse: asked("fluent", "heldCost", at(weight)),
  })),
  {
    weight: "texture.heldEachSecond",
    because: "a chord rings on under short notes rather than under long ones",
    better: asked("fluent", "heldCost", { seconds: 0.5 }),
    worse: asked("fluent", "heldCost", { seconds: 2 }),
  },
  {
    weight: "texture.heldWhereStrikeIsDue",
    because: "once a bar the chord is struck again",
    better: asked("fluent", "heldCost", at(3), "change"),
    worse: asked("fluent", "heldCost", at(3), "bar"),
  },
  ...[0, 1, 2, 3].map((weight) => ({
    weight: `texture.struckAgain.${weight}`,
    because: `on metric weight ${weight} a chord that has not changed is left to ring`,
    better: asked("fluent", "struckCost", { ...at(weight), seconds: 1, isChordChange: true }),
    worse: asked("fluent", "struckCost", { ...at(weight), seconds: 1 }),
  })),
  {
    weight: "texture.struckAgainstSeventh",
    because: "a dominant is struck under its own seventh rather than under the major one",
    better: asked("fluent", "struckCost", { midi: 65, seconds: 1, chord: chordNamed("G7") }),
    worse: asked("fluent", "struckCost", { midi: 66, seconds: 1, chord: chordNamed("G7") }),
  },
  {
    weight: "texture.heldLean",
    because: "a strong beat of the lean texture has its own chord",
    better: asked("lean", "heldCost", at(0)),
    worse: asked("lean", "heldCost", at(3)),
  },
  {
    weight: "texture.bareChordChange",
    because: "a chord change is not passed over",
    better: asked("fluent", "singleCost", at(3)),
    worse: asked("fluent", "singleCost", { ...at(3), isChordChange: true }),
  },
  {
    weight: "texture.bareAnticipation",
    because: "a chord that comes in early comes in with its note",
    better: asked("full", "struckCost", { seconds: 0.1, isChordChange: true }),
    worse: asked("full", "singleCost", { seconds: 0.1, isChordChange: true }),
  },
  {
    weight: "texture.bareFull",
    because: "the full texture owes every note its chord",
    better: asked("full", "singleCost", { chord: undefined, seconds: 1 }),
    worse: asked("full", "singleCost", { seconds: 1 }),
  },
  {
    weight: "texture.struckInHasteEachTenth",
    because: "a chord needs time to sound",
    better: asked("fluent", "struckCost", { ...at(1), seconds: 1 }),
    worse: asked("fluent", "struckCost", { ...at(1), seconds: 0.1 }),
  },
  {
    weight: "texture.hasteSeconds",
    because: "a chord of a tenth of a second is struck in haste",
    better: asked("fluent", "struckCost", { ...at(1), seconds: 1 }),
    worse: asked("fluent", "struckCost", { ...at(1), seconds: 0.1 }),
  },
  {
    weight: "texture.gripStruckAgain",
    because: "a grip made for its melody note rather than the one that is there",
    better: asked("full", "struckCost", at(1)),
    worse: struckAgain("C", 67, "x x 5:3 5:4 5:1 3:1", ["1", "3", "1"]),
  },
  {
    weight: "texture.shareOfLackingAgain",
    because: "struck again under another note, too, a grip has its third",
    better: struckAgain("C7", 67, "x 7:2 8:3 9:4 8:1 x", ["3", "b7", "3"], 4),
    worse: struckAgain("C7", 67, "x 3:1 8:3 5:2 8:4 x", ["1", "b7", "1"], 4),
  },
  {
    weight: "texture.quickSeconds",
    because: "a quick note off the beat needs no chord of its own",
    better: asked("full", "singleCost", { seconds: 0.3 }),
    worse: asked("full", "singleCost", { seconds: 1 }),
  },
  {
    weight: "texture.bareQuickFull",
    because: "the full texture lets a chord ring on under quick notes",
    better: asked("full", "heldCost", { seconds: 0.2, weight: 0, isChordChange: false }),
    worse: asked("full", "singleCost", { seconds: 0.2, weight: 0, isChordChange: false }),
  },
  {
    weight: "texture.atOnceSeconds",
    because: "one right after another may stay over the chord of that one",
    better: asked("full", "singleCost", { seconds: 1, secondsSince: 0.15 }),
    worse: asked("full", "singleCost", { seconds: 1, secondsSince: 1 }),
  },
  {
    weight: "texture.wideAtTempoEachMm",
    because: "a grip within the reach at tempo",
    better: wide(0, 0.5),
    worse: wide(10, 0.5),
  },
  {
    weight: "texture.calmSeconds",
    because: "a wide grip is for slow music",
    better: wide(10, 4),
    worse: wide(10, 0.5),
  },
  {
    weight: "texture.calmShare",
    because: "in slow music, too, a narrow grip is easier",
    better: wide(0, 3),
    worse: wide(10, 3),
  },
  {
    weight: "texture.heldHollowEachSecond",
    because: "what rings on still says which chord it is",
    better: leftRinging("C", 2, ["1", "3"]),
    worse: leftRinging("C", 2, ["1", "5"]),
  },
  {
    weight: "texture.heldLackingGuideEachSecond",
    because: "the third is not gone for long",
    better: leftRinging("C7", 2, ["1", "3", "b7"]),
    worse: leftRinging("C7", 2, ["1", "5", "b7"]),
  },
  {
    weight: "texture.lackingGuideFromSeconds",
    because: "a passing note may take the third's string",
    better: leftRinging("C7", 2, ["1", "5", "b7"], { seconds: 0.4 }),
    worse: leftRinging("C7", 2, ["3", "b7"], { seconds: 0.4 }),
  },
  {
    weight: "texture.lowestAgainEachSecond",
    because: "a low third does not go on as a bass under other notes",
    better: bassGoesOn("C", "1", 48),
    worse: bassGoesOn("C", "3", 40),
  },
  {
    weight: "voicing.shareWhereMelodyTakes",
    because: "a chord is held where the melody has a string of its own",
    better: taken("C", "x 3:3 2:2 0 x 3:4", "x 3:3 2:2 0 3:4 x"),
    worse: taken("C", "x x 10:3 9:2 8:1 8:1", "x x 10:3 9:2 10:4 x"),
  },
  ...[0, 1, 2, 3].map((weight) => ({
    weight: `texture.noteShortFluent.${weight}`,
    because: `a chord that rings on at metric weight ${weight} is as full as it was`,
    better: leftRinging("C7", 0, ["3", "5", "b7"], at(weight)),
    worse: leftRinging("C7", 0, ["3", "b7"], at(weight)),
  })),
  {
    weight: "sung.bassNotLowest",
    because: "the bass rather than the voice above it",
    better: sung([52, 55], [[0, 4, 2]]),
    worse: sung([52, 55], [[1, 4, 5]]),
  },
  {
    weight: "sung.toneLeftOut",
    because: "every tone that is sung is played",
    better: sung(
      [48, 55],
      [
        [0, 5, 3],
        [1, 4, 5],
      ],
    ),
    worse: sung([48, 55], [[0, 5, 3]]),
  },
  {
    weight: "sung.voiceLeftOut",
    because: "a doubled voice is played too",
    better: sung(
      [48, 52, 60],
      [
        [0, 5, 3],
        [1, 4, 2],
        [2, 3, 5],
      ],
    ),
    worse: sung(
      [48, 52, 60],
      [
        [0, 5, 3],
        [1, 4, 2],
      ],
    ),
  },
  {
    weight: "sung.bassDoubledOnly",
    because: "the bass itself rather than its octave alone",
    better: sung(
      [48, 60],
      [
        [0, 5, 3],
        [1, 4, 10],
      ],
    ),
    worse: sung([48, 60], [[1, 4, 10]]),
  },
  {
    weight: "sung.heldOverPercent",
    because: "a tone that is held over is missed as well",
    better: sung(
      [48, 55],
      [
        [0, 5, 3],
        [1, 4, 5],
      ],
      { begins: false },
    ),
    worse: sung([48, 55], [[0, 5, 3]], { begins: false }),
  },
  {
    weight: "sung.shortPercent",
    because: "a short tone is missed as well",
    better: sung(
      [48, 55],
      [
        [0, 5, 3],
        [1, 4, 5],
      ],
      { isShort: true },
    ),
    worse: sung([48, 55], [[0, 5, 3]], { isShort: true }),
  },
  {
    weight: "sung.bassOctave",
    because: "the bass is where it is sung",
    better: sung([48], [[0, 5, 3]]),
    worse: sung([48], [[0, 4, 10]]),
  },
  {
    weight: "sung.voiceOctave",
    because: "a voice is where it is sung",
    better: sung(
      [48, 52],
      [
        [0, 5, 3],
        [1, 4, 2],
      ],
    ),
    worse: sung(
      [48, 52],
      [
        [0, 5, 3],
        [1, 4, 14],
      ],
    ),
  },
  ...PLUCKED.map(([weight, better, worse, because, ringing]) => ({
    weight,
    because,
    better: plucked(weight, better),
    worse: plucked(weight, worse, ringing),
  })),
  {
    weight: "sung.struckAgain",
    because: "what a singer holds rings on",
    better: heldVoice(true, [E_HELD]),
    worse: heldVoice(false, [E_HELD]),
  },
  {
    weight: "sung.notStruckWhenSung",
    because: "what a singer begins anew is struck",
    better: heldVoice(false, [E_HELD, E_BEGUN]),
    worse: heldVoice(true, [E_HELD, E_BEGUN]),
  },
  {
    weight: "sung.shortSeconds",
    because: "what is gone at once is less missed",
    better: voiceSilent(0.2),
    worse: voiceSilent(1),
  },
  {
    weight: "sung.openString",
    because: "stopped strings are of one tone",
    better: sung([50], [[0, 5, 5]]),
    worse: sung([50], [[0, 4, 0]]),
  },
  {
    weight: "sung.lineBroken",
    because: "a voice stays in its octave",
    better: lineFrom(0, 0),
    worse: lineFrom(0, 1),
  },
];

/** Weights that no situation here shows, with the reason. */
export const NOT_SHOWN: ReadonlyMap<string, string> = new Map([
  [
    "voicing.unusualFingersEachPoint",
    "it is added where grips are gathered: tests/arranging/grip-costs.test.ts shows it there",
  ],
  [
    "voicing.littleFingerBarre",
    "it is added where grips are gathered: tests/arranging/grip-costs.test.ts shows it there",
  ],
  [
    "voicing.barreBesideLowerFret",
    "it is added where grips are gathered: tests/arranging/grip-costs.test.ts shows it there",
  ],
  [
    "hand.stretchEachMm.14",
    "index and little finger so far apart strain and span as well; no two grips were found that it alone decides between",
  ],
  [
    "move.barreUnrestedEachSecond",
    "belongs to a step between two moments: tests/arranging/barre-rest.test.ts",
  ],
  ["sameness.eachMeasure", "belongs to measures that come again: tests/arranging/same-again.test.ts"],
]);

import type {
  Alternative,
  ArrangedEvent,
  Arrangement,
  Attack,
  Barre,
  WhySingle,
} from "../arrangement/arrangement.js";
import { type Move, placementsAt } from "../arrangement/hand-moves.js";
import { type Plucked, pluckedBy, struckStrings } from "../arrangement/plucked-strings.js";
import type { Finger } from "../guitar/grip.js";
import { midiAt } from "../guitar/instrument.js";
import { chordName } from "../harmony/chord-name.js";
import { type Chord, chordOf } from "../harmony/chord-tones.js";
import type { LeftOutTone } from "../harmony/left-out.js";
import { type Shape, shapeOf, shapesUnder } from "../harmony/shapes/shape-table.js";
import type { RightHand } from "../options/options.js";
import { nameOf, transposePitch } from "../song/pitch.js";
import { transposedSymbol } from "../song/transposition.js";
import type { Tune } from "../song/tune.js";
import { type Moment, momentAt } from "./moment.js";
import { rounded } from "./rounded.js";

/** One moment of an arrangement: what sounds, how it is held, what was left out, what else could be played. */
export interface EventReport extends Moment {
  /** Short text of the chord, as moved; absent before the first chord and under N.C. */
  readonly chord?: string;
  readonly attack: Attack;
  /** Why the melody note is alone; absent where it is not. */
  readonly whySingle?: WhySingle;
  /** The melody note as the guitar sounds it, "Eb5"; absent where the melody rests. */
  readonly melody?: string;
  readonly melodyDegree?: string;
  /** Degrees of what sounds, low to high, the melody's last. */
  readonly degrees: readonly string[];
  /** Those of them that melody notes of before sound, whose fingers were left on them; absent where none is. */
  readonly leftByMelody?: readonly string[];
  /** Where what sounds is stopped, low to high. */
  readonly notes: readonly NoteReport[];
  /** One finger across strings, from the lowest-pitched string to the highest. */
  readonly barres: readonly Barre[];
  /** The shape that a struck grip is; absent where it is none that players know. */
  readonly shape?: Shape;
  /** Tones of the chord that a struck grip does without, and why. */
  readonly leftOut: readonly LeftOutTone[];
  /** What voices of an ensemble sing here and is not played, the lowest first; absent where all of it is. */
  readonly voicesLeftOut?: readonly VoiceLeftOutReport[];
  /** The right-hand finger for each string struck together, low to high; only where fingers were asked for. */
  readonly plucked?: readonly Plucked[];
  /** Silent strings that a pick brushes through, so that they are damped; only where a pick was asked for. */
  readonly damped?: readonly number[];
  /** Along the neck, from here to the next moment; absent at the end, and where playing never goes on there. */
  readonly moveMm?: number;
  /** Time there is for that move. */
  readonly secondsAvailable?: number;
  readonly mmPerSecond?: number;
  /** The best other ways to play this moment, cheapest first. */
  readonly alternatives: readonly AlternativeReport[];
}

export interface VoiceLeftOutReport {
  readonly voice: string;
  /** As it would sound, "G3". */
  readonly pitch: string;
  /** Whether something else sounds its tone, in whichever octave. */
  readonly toneSounds: boolean;
}

export interface NoteReport {
  /** 1 is the highest string. */
  readonly string: number;
  /** From the nut or the capo; 0 is open. */
  readonly fret: number;
  readonly finger: Finger;
}

export interface AlternativeReport {
  readonly attack: Attack;
  /** Points that the whole arrangement costs more with it, the rest chosen anew around it. */
  readonly extraCost: number;
  /** Degrees of what sounds, low to high, the melody's last. */
  readonly degrees: readonly string[];
  readonly notes: readonly NoteReport[];
  readonly shape?: Shape;
}

/** Every moment of an arrangement, in time order. */
export const eventReports = (
  tune: Tune,
  arrangement: Arrangement,
  moves: readonly Move[],
  rightHand: RightHand,
): readonly EventReport[] => {
  const struck = rightHand === "either" ? undefined : struckStrings(tune, arrangement);
  const names = chordNames(tune, arrangement);
  const onwards = new Map(moves.filter(({ from, to }) => to === from + 1).map((move) => [move.from, move]));
  const shapesAt = shapesOver(tune, arrangement, names);
  return arrangement.events.map((event, index) => {
    const shapeAmong = shapesAt(event);
    const sounding = placementsAt(arrangement, event);
    return {
      ...momentAt(tune, event.onset),
      ...whatSounds(tune, arrangement, event, names),
      notes: sounding.map(noteReport),
      barres: event.barres,
      ...shapeAmong(event.attack, sounding),
      leftOut: event.leftOut,
      ...voicesLeftOut(event),
      ...inRightHand(struck?.get(event.onset) ?? [], sounding, rightHand),
      ...moveAlong(onwards.get(index)),
      alternatives: event.alternatives.map((one) => ({
        ...alternativeReport(one, event),
        ...shapeAmong(one.attack, one.notes),
      })),
    };
  });
};

/** What each chord of the tune is called, moved; nothing under N.C. */
const chordNames = ({ chords }: Tune, { transposition }: Arrangement): readonly (string | undefined)[] =>
  chords.map(({ symbol }) =>
    symbol === undefined ? undefined : chordName(transposedSymbol(symbol, transposition.interval)),
  );

function whatSounds(
  tune: Tune,
  arrangement: Arrangement,
  event: ArrangedEvent,
  names: readonly (string | undefined)[],
): Pick<
  EventReport,
  "chord" | "attack" | "whySingle" | "melody" | "melodyDegree" | "degrees" | "leftByMelody"
> {
  const chord = names[event.chord ?? -1];
  const { interval, semitones } = arrangement.transposition;
  const written = tune.melody[event.melodyNote ?? -1]?.pitch;
  const pitch = written === undefined ? undefined : transposePitch(written, interval, semitones);
  const supports = event.supports.flatMap((index) => arrangement.supports[index] ?? []);
  const left = supports.filter(({ leftByMelody }) => leftByMelody !== undefined);
  return {
    ...(chord === undefined ? {} : { chord }),
    attack: event.attack,
    ...(event.whySingle === undefined ? {} : { whySingle: event.whySingle }),
    ...(pitch === undefined ? {} : { melody: `${nameOf(pitch)}${pitch.octave}` }),
    ...(event.melodyDegree === undefined ? {} : { melodyDegree: event.melodyDegree }),
    degrees: [...supports.map(({ degree }) => degree), event.melodyDegree].filter(
      (degree) => degree !== undefined,
    ),
    ...(left.length === 0 ? {} : { leftByMelody: left.map(({ degree }) => degree) }),
  };
}

const noteReport = ({ string, fret, finger }: NoteReport): NoteReport => ({ string, fret, finger });

const voicesLeftOut = ({ voicesLeftOut }: ArrangedEvent): Pick<EventReport, "voicesLeftOut"> =>
  voicesLeftOut.length === 0
    ? {}
    : {
        voicesLeftOut: voicesLeftOut.map(({ voice, pitch, isToneThere }) => ({
          voice,
          pitch: `${nameOf(pitch)}${pitch.octave}`,
          toneSounds: isToneThere,
        })),
      };

/** What the right hand does with strings struck together, the lowest-pitched first. */
function inRightHand(
  struck: readonly number[],
  sounding: readonly NoteReport[],
  rightHand: RightHand,
): Pick<EventReport, "plucked" | "damped"> {
  const [lowest = 0] = struck;
  if (struck.length < 2) return {};
  if (rightHand === "fingers") return { plucked: pluckedBy(struck) };
  const damped = Array.from(
    { length: lowest - (struck.at(-1) ?? lowest) },
    (_, index) => lowest - index,
  ).filter((string) => sounding.every((note) => note.string !== string));
  return damped.length === 0 ? {} : { damped };
}

/** Which shape notes are, low to high, where they are struck. */
type ShapeAmong = (attack: Attack, notes: readonly NoteReport[]) => { readonly shape?: Shape };

/** Says at each event which shape some notes are; the shapes over a chord are worked out once. */
function shapesOver(
  tune: Tune,
  { instrument, transposition }: Arrangement,
  names: readonly (string | undefined)[],
): (event: ArrangedEvent) => ShapeAmong {
  const known = new Map<string, ShapeAmong>();
  return (event) => {
    const symbol = tune.chords[event.chord ?? -1]?.symbol;
    const name = names[event.chord ?? -1];
    if (symbol === undefined || name === undefined) return () => ({});
    const among = known.get(name) ?? shapesOf(chordOf(transposedSymbol(symbol, transposition.interval)));
    known.set(name, among);
    return among;
  };

  function shapesOf(chord: Chord): ShapeAmong {
    return (attack, notes) => {
      if (attack !== "struck" && attack !== "under") return {};
      const midis = notes.map(({ string, fret }) => midiAt(instrument, string, fret));
      const melody = (midis.at(-1) ?? 0) % 12;
      const shape =
        shapeOf(shapesUnder(chord, melody), notes, midis) ??
        shapeOf(shapesUnder(chord, melody, true), notes, midis);
      return shape === undefined ? {} : { shape };
    };
  }
}

const alternativeReport = (
  { attack, extraCost, degrees, notes }: Alternative,
  { melodyDegree }: ArrangedEvent,
): AlternativeReport => ({
  attack,
  extraCost,
  degrees: [...degrees, melodyDegree].filter((degree) => degree !== undefined),
  notes: notes.map(noteReport),
});

/** The move to the next written moment; none where playing never goes on there. */
function moveAlong(next: Move | undefined): Pick<EventReport, "moveMm" | "secondsAvailable" | "mmPerSecond"> {
  if (next === undefined) return {};
  const { moveMm, secondsAvailable } = next;
  return {
    moveMm: rounded(moveMm),
    secondsAvailable: rounded(secondsAvailable),
    ...(secondsAvailable > 0 ? { mmPerSecond: rounded(moveMm / secondsAvailable) } : {}),
  };
}

import type { ArrangedEvent, Arrangement, Attack } from "../arranging/arrangement.js";
import { transposedSymbol } from "../arranging/transposed-tune.js";
import type { Finding, Findings } from "../diagnostics.js";
import type { Finger } from "../guitar/grip.js";
import { chordName } from "../harmony/chord-name.js";
import type { LeadSheet } from "../musicxml/lead-sheet.js";
import type { ArrangeOptions } from "../options.js";
import { keyName } from "../song/key-name.js";
import type { Tune } from "../song/tune.js";
import { type Move, movesOf, placementsAt, reachMm } from "./moves.js";

/** What an arrangement is like to play, and what was worth saying about its score. */
export interface Report {
  readonly title?: string;
  readonly key: KeyReport;
  readonly melody: MelodyReport;
  /** Chord changes struck under a melody note that rings on. */
  readonly chordChangesUnderHeldNotes: number;
  /** The move that asks for the greatest speed; absent where the hand never moves. */
  readonly hardestMove?: MoveReport;
  /** The grip whose outer fingers are furthest apart along the neck; absent where no grip spreads. */
  readonly widestReach?: ReachReport;
  /** Moments at which a finger bars. */
  readonly barres: number;
  readonly findings: readonly Finding[];
  /** Every moment of the arrangement, in time order. */
  readonly events: readonly EventReport[];
}

export interface KeyReport {
  /** In words, such as "Eb major". */
  readonly before: string;
  readonly after: string;
  /** How far the tune was moved, octaves included. */
  readonly semitones: number;
}

export interface MelodyReport {
  /** Id of the part that the melody was read from. */
  readonly part: string;
  readonly notes: number;
  /** Melody notes struck with their chord, over a chord that rings on, and alone: together all of them. */
  readonly struck: number;
  readonly held: number;
  readonly single: number;
}

/** A moment of the score, in written order. */
export interface Moment {
  /** Position in the part, from 1. */
  readonly measure: number;
  /** The measure's own number where it differs. */
  readonly measureLabel?: string;
  /** Quarter notes from the start of the measure, plus 1. */
  readonly beat: number;
}

export interface MoveReport {
  readonly from: Moment;
  readonly to: Moment;
  /** Along the neck. */
  readonly moveMm: number;
  readonly secondsAvailable: number;
  readonly mmPerSecond: number;
}

export interface ReachReport extends Moment {
  /** Along the neck, between the lowest and the highest stopped fret. */
  readonly reachMm: number;
}

export interface EventReport extends Moment {
  /** Short text of the chord, as moved; absent before the first chord and under N.C. */
  readonly chord?: string;
  readonly attack: Attack;
  readonly melodyDegree?: string;
  /** Degrees of what sounds, low to high, the melody's last. */
  readonly degrees: readonly string[];
  /** Where what sounds is stopped, low to high. */
  readonly notes: readonly NoteReport[];
  /** Along the neck, from here to the next moment; absent at the end, and where playing never goes on there. */
  readonly moveMm?: number;
}

export interface NoteReport {
  /** 1 is the highest string. */
  readonly string: number;
  /** From the nut or the capo; 0 is open. */
  readonly fret: number;
  readonly finger: Finger;
}

/** The report on an arrangement of a tune. */
export function reportOf(
  sheet: LeadSheet,
  arrangement: Arrangement,
  options: Pick<ArrangeOptions, "tempo">,
  findings: Findings,
): Report {
  const { tune, source } = sheet;
  const { events, transposition } = arrangement;
  const moves = movesOf(tune, arrangement, options.tempo);
  const momentOf = (index: number) => momentAt(tune, events[index]?.onset ?? 0);
  const hardestMove = hardestOf(moves, momentOf);
  const widestReach = widestOf(
    events.map((event) => reachMm(arrangement.instrument, placementsAt(arrangement, event))),
  );
  const key = tune.keys[0] ?? { at: 0, fifths: 0, mode: undefined };
  const isNoteOnset = (event: ArrangedEvent) => tune.melody[event.melodyNote ?? -1]?.onset === event.onset;
  const notesPlayed = (attack: Attack) =>
    events.filter((event) => event.attack === attack && isNoteOnset(event)).length;
  return {
    ...(tune.title === undefined ? {} : { title: tune.title }),
    key: {
      before: keyName(key),
      after: keyName(key, transposition.interval),
      semitones: transposition.semitones,
    },
    melody: {
      part: source.melodyPartId,
      notes: tune.melody.length,
      struck: notesPlayed("struck"),
      held: notesPlayed("held"),
      single: notesPlayed("single"),
    },
    chordChangesUnderHeldNotes: events.filter((event) => event.attack === "under").length,
    ...(hardestMove === undefined ? {} : { hardestMove }),
    ...(widestReach === undefined
      ? {}
      : { widestReach: { ...momentOf(widestReach.event), reachMm: widestReach.reachMm } }),
    barres: events.filter((event) => event.barres.length > 0).length,
    findings: findings.all,
    events: events.map((event, index) => ({
      ...momentOf(index),
      ...eventReport(tune, arrangement, event),
      ...moveAfter(index, moves),
    })),
  };
}

function eventReport(
  tune: Tune,
  arrangement: Arrangement,
  event: ArrangedEvent,
): Omit<EventReport, keyof Moment> {
  const symbol = event.chord === undefined ? undefined : tune.chords[event.chord]?.symbol;
  const { interval } = arrangement.transposition;
  const degrees = event.supports.map((index) => arrangement.supports[index]?.degree);
  return {
    ...(symbol === undefined ? {} : { chord: chordName(transposedSymbol(symbol, interval)) }),
    attack: event.attack,
    ...(event.melodyDegree === undefined ? {} : { melodyDegree: event.melodyDegree }),
    degrees: [...degrees, event.melodyDegree].filter((degree) => degree !== undefined),
    notes: placementsAt(arrangement, event).map(({ string, fret, finger }) => ({ string, fret, finger })),
  };
}

/** The move to the next written moment; none where playing never goes on there. */
function moveAfter(index: number, moves: readonly Move[]): Pick<EventReport, "moveMm"> {
  const next = moves.find(({ from, to }) => from === index && to === index + 1);
  return next === undefined ? {} : { moveMm: rounded(next.moveMm) };
}

function hardestOf(moves: readonly Move[], momentOf: (index: number) => Moment): MoveReport | undefined {
  const speed = ({ moveMm, secondsAvailable }: Move) => moveMm / secondsAvailable;
  const hardest = moves
    .filter(({ moveMm, secondsAvailable }) => moveMm > 0 && secondsAvailable > 0)
    .reduce<Move | undefined>(
      (most, move) => (most === undefined || speed(move) > speed(most) ? move : most),
      undefined,
    );
  if (hardest === undefined) return undefined;
  return {
    from: momentOf(hardest.from),
    to: momentOf(hardest.to),
    moveMm: rounded(hardest.moveMm),
    secondsAvailable: rounded(hardest.secondsAvailable),
    mmPerSecond: rounded(speed(hardest)),
  };
}

function widestOf(
  reaches: readonly number[],
): { readonly event: number; readonly reachMm: number } | undefined {
  const widest = Math.max(0, ...reaches);
  return widest === 0 ? undefined : { event: reaches.indexOf(widest), reachMm: rounded(widest) };
}

/** Where a tick stands in the score. */
function momentAt(tune: Tune, tick: number): Moment {
  const measure = tune.measures.findLast(({ start }) => start <= tick);
  if (measure === undefined) return { measure: 1, beat: 1 };
  return {
    measure: measure.index + 1,
    ...(measure.label === String(measure.index + 1) ? {} : { measureLabel: measure.label }),
    beat: rounded(1 + (tick - measure.start) / tune.ticksPerQuarter),
  };
}

/** To a thousandth: finer than any hand, and the same text on every machine. */
const rounded = (value: number): number => Math.round(value * 1000) / 1000;

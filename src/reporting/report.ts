import type { ArrangedEvent, Arrangement, Attack } from "../arrangement/arrangement.js";
import { isBeyond, movesOf, placementsAt, reachMm } from "../arrangement/hand-moves.js";
import { type Finding, type Findings, ofFile } from "../diagnostics.js";
import type { LeadSheet } from "../musicxml/lead-sheet/lead-sheet.js";
import type { ArrangeOptions } from "../options/options.js";
import { keyName } from "../song/key-name.js";
import { VERSION } from "../version.js";
import { cautionsOn } from "./cautions.js";
import { type EventReport, eventReports } from "./event-report.js";
import { hardestOf, type MoveReport } from "./hardest-move.js";
import { levelNote } from "./level-note.js";
import { type Moment, momentAt } from "./moment.js";
import { rounded } from "./rounded.js";

/** What an arrangement is like to play, and what was worth saying about its score. */
export interface Report {
  /** Of the program. */
  readonly version: string;
  /** The file that was arranged, as the person named it; absent where there is none. */
  readonly input?: string;
  readonly title?: string;
  readonly key: KeyReport;
  readonly melody: MelodyReport;
  /** Chord changes struck under a melody note that rings on. */
  readonly chordChangesUnderHeldNotes: number;
  /** The move that asks for the greatest speed; absent where the hand never moves. */
  readonly hardestMove?: MoveReport;
  readonly moves: MovesReport;
  /** The grip whose outer fingers are furthest apart along the neck; absent where no grip spreads. */
  readonly widestReach?: ReachReport;
  /** Moments at which a finger bars. */
  readonly barres: number;
  /** Measures, from 1, that have the melody and chords of an earlier one and are played otherwise. */
  readonly playedOtherwise: readonly number[];
  /** All that the arrangement went by, whether it was given or not. */
  readonly options: ArrangeOptions;
  readonly findings: readonly Finding[];
  /** Every moment of the arrangement, in time order; worked out when it is first asked for. */
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
  /** Its name, where it has one. */
  readonly partName?: string;
  readonly notes: number;
  /** Melody notes struck with their chord, over a chord that rings on, and alone: together all of them. */
  readonly struck: number;
  readonly held: number;
  readonly single: number;
  /** Of those alone, the ones over which a chord is in force: the rest are before the first chord or under N.C. */
  readonly singleUnderChord: number;
}

/** From each moment to the one played after it, repeats and endings too. */
export interface MovesReport {
  readonly count: number;
  /** Moves faster than the hand is said to travel. */
  readonly beyondLimit: number;
  readonly limitMmPerSecond: number;
}

export type { EventReport } from "./event-report.js";
export type { MoveReport } from "./hardest-move.js";
export type { Moment } from "./moment.js";

export interface ReachReport extends Moment {
  /** Along the neck, between the lowest and the highest stopped fret. */
  readonly reachMm: number;
}

/** A report, and all that was found on the way to it, with the file that was arranged; which file, after the version. */
export function reportOnFile(
  file: string,
  { report, findings }: { readonly report: Report; readonly findings: readonly Finding[] },
): Report {
  const named = { version: report.version, input: file };
  // As they stand in the report: its moments are not worked out for that.
  return Object.defineProperties(named, {
    ...Object.getOwnPropertyDescriptors(report),
    findings: { value: findings.map((one) => ofFile(file, one)), enumerable: true },
  }) as typeof named & Report;
}

/** The report on an arrangement of a tune. */
export function reportOf(
  sheet: LeadSheet,
  arrangement: Arrangement,
  options: ArrangeOptions,
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
  // Half of a report is its moments, and most that ask for one look at the rest alone.
  let moments: readonly EventReport[] | undefined;
  const isNoteOnset = (event: ArrangedEvent) => tune.melody[event.melodyNote ?? -1]?.onset === event.onset;
  const notesPlayed = (attack: Attack) =>
    events.filter((event) => event.attack === attack && isNoteOnset(event)).length;
  return {
    version: VERSION,
    ...(tune.title === undefined ? {} : { title: tune.title }),
    key: {
      before: keyName(key),
      after: keyName(key, transposition.interval),
      semitones: transposition.semitones,
    },
    melody: {
      part: source.melodyPartId,
      ...(source.melodyPartName === "" ? {} : { partName: source.melodyPartName }),
      notes: tune.melody.length,
      struck: notesPlayed("struck"),
      held: notesPlayed("held"),
      single: notesPlayed("single"),
      singleUnderChord: events.filter(
        (event) => event.attack === "single" && event.melodyDegree !== undefined,
      ).length,
    },
    chordChangesUnderHeldNotes: events.filter((event) => event.attack === "under").length,
    ...(hardestMove === undefined ? {} : { hardestMove }),
    moves: {
      count: moves.length,
      beyondLimit: moves.filter((move) => isBeyond(move, options.shift)).length,
      limitMmPerSecond: options.shift,
    },
    ...(widestReach === undefined
      ? {}
      : { widestReach: { ...momentOf(widestReach.event), reachMm: widestReach.reachMm } }),
    barres: events.filter((event) => event.barres.length > 0).length,
    playedOtherwise: arrangement.playedOtherwise.map((measure) => measure + 1),
    options,
    findings: [
      ...findings.all,
      ...[levelNote(arrangement, options)].filter((note) => note !== undefined),
      ...cautionsOn(tune, arrangement, options.tempo),
    ],
    get events() {
      moments ??= eventReports(tune, arrangement, moves, options.rightHand);
      return moments;
    },
  };
}

function widestOf(
  reaches: readonly number[],
): { readonly event: number; readonly reachMm: number } | undefined {
  const widest = reaches.reduce((most, reach) => Math.max(most, reach), 0);
  return widest === 0 ? undefined : { event: reaches.indexOf(widest), reachMm: rounded(widest) };
}

import { type Chord, chordOf } from "../../harmony/chord-tones.js";
import { isSameSymbol } from "../../song/chord-symbol.js";
import { countBefore, countUntil, lastUntil } from "../../song/in-time-order.js";
import { secondsBetween } from "../../song/playing-time.js";
import type { ChordSpan, MelodyNote, MetricWeight, Tune } from "../../song/tune.js";

/**
 * A moment at which something is struck: a melody note, a chord change under one that rings on, or, where
 * asked for, a chord change while the melody rests.
 */
export interface TuneEvent {
  readonly index: number;
  readonly onset: number;
  /** When what is struck here stops: the next event, the end of the note, or of the chord in a rest. */
  readonly end: number;
  /** undefined in a rest of the melody. */
  readonly note: MelodyNote | undefined;
  /** false: the note began earlier and a chord changes under it, or there is none. */
  readonly isNoteOnset: boolean;
  /** Metric weight of the note; 0 where a chord changes under one. */
  readonly weight: MetricWeight;
  /** The chord in force; undefined before the first symbol and under N.C. */
  readonly chord: Chord | undefined;
  readonly span: ChordSpan | undefined;
  /** The note is no tone of its chord and leads by a semitone to one. */
  readonly isLeading: boolean;
  /** The note is an eleventh over a minor triad and goes down to its third. */
  readonly isSuspended: boolean;
  /** The first event under its chord symbol. */
  readonly isChordChange: boolean;
  /** How long what is struck here lasts, seconds: to the next event or the end of the note. */
  readonly seconds: number;
  /** Since the event before began, seconds; Infinity for the first. */
  readonly secondsSince: number;
  /** A chord may ring on into this event: no long rest is before it and playing arrives only from there. */
  readonly mayBeHeldInto: boolean;
}

/** Where the melody rests no longer the hand stays, and what it holds rings on. Common practice. */
const BRIDGED_REST_SECONDS = 1.6;

/**
 * The events of a tune in time order: every melody note, every chord change that falls while one sounds,
 * if rests are to be `struck` every chord change in a rest, and the `moments` that a player adds.
 */
export function tuneEvents(
  tune: Tune,
  tempo: number | undefined,
  rests: "silent" | "struck" = "silent",
  moments: readonly number[] = [],
): readonly TuneEvent[] {
  const chords = new Map(
    tune.chords.map((span) => [span, span.symbol === undefined ? undefined : chordOf(span.symbol)]),
  );
  const spanAt = (tick: number) => lastUntil(tune.chords, tick, ({ start }) => start);
  const arrivals = inOrder(tune.jumps.map((jump) => jump.to));
  const changes = inOrder([...tune.chords.map((span) => span.start), ...moments]);
  const under = tune.melody.flatMap((note) => {
    const within = changes.slice(
      countUntil(changes, note.onset, itself),
      countBefore(changes, endOf(note), itself),
    );
    return [note.onset, ...within].map((onset) => ({ onset, note, span: spanAt(onset) }));
  });
  const changesInRests = rests === "silent" ? [] : inRests(tune);
  const struckInRests = new Set(changesInRests.map(({ onset }) => onset));
  const momentsInRests = moments
    .filter((at) => !struckInRests.has(at) && !isSungAt(tune, at))
    .map((onset) => ({ onset, note: undefined, span: spanAt(onset) }));
  const bare: readonly BareEvent[] = [...under, ...changesInRests, ...momentsInRests].sort(
    (one, other) => one.onset - other.onset,
  );
  return bare.map((event, index): TuneEvent => {
    const before = bare[index - 1];
    const { note, span } = event;
    const next = bare[index + 1]?.onset ?? Number.POSITIVE_INFINITY;
    const end = Math.min(note === undefined ? (span?.end ?? endOfTune(tune)) : endOf(note), next);
    const isNoteOnset = event.onset === note?.onset;
    const following = tune.melody[(note?.index ?? -2) + 1];
    const chord = span === undefined ? undefined : chords.get(span);
    return {
      index,
      ...event,
      end,
      isNoteOnset,
      weight: isNoteOnset && note !== undefined ? note.weight : 0,
      chord,
      isLeading: isLeading(note, following, chord),
      isSuspended: isSuspended(note, following, chord, span),
      isChordChange: span !== undefined && !isSameChord(span, before?.span),
      seconds: secondsBetween(tune, event.onset, end, tempo),
      secondsSince:
        before === undefined
          ? Number.POSITIVE_INFINITY
          : secondsBetween(tune, before.onset, event.onset, tempo),
      mayBeHeldInto:
        before?.note !== undefined &&
        secondsBetween(tune, endOf(before.note), event.onset, tempo) <= BRIDGED_REST_SECONDS &&
        !crossesArrival(arrivals, before.onset, event.onset),
    };
  });
}

interface BareEvent {
  readonly onset: number;
  readonly note: MelodyNote | undefined;
  readonly span: ChordSpan | undefined;
}

/** Chord changes that no melody note sounds over. */
function inRests(tune: Tune): readonly BareEvent[] {
  return tune.chords
    .filter((span) => span.symbol !== undefined && span.end > span.start)
    .filter((span) => !isSungAt(tune, span.start))
    .map((span) => ({ onset: span.start, note: undefined, span }));
}

/** Whether a melody note sounds at a tick. */
function isSungAt({ melody }: Tune, tick: number): boolean {
  const note = lastUntil(melody, tick, ({ onset }) => onset);
  return note !== undefined && endOf(note) > tick;
}

/** Each once, from the earliest on. */
const inOrder = (ticks: readonly number[]): readonly number[] =>
  [...new Set(ticks)].sort((one, other) => one - other);

const itself = (tick: number): number => tick;

function endOfTune({ measures }: Tune): number {
  const last = measures.at(-1);
  return last === undefined ? 0 : last.start + last.length;
}

const endOf = (note: MelodyNote): number => note.onset + note.length;

function isLeading(
  note: MelodyNote | undefined,
  next: MelodyNote | undefined,
  chord: Chord | undefined,
): boolean {
  if (note === undefined || next === undefined || chord === undefined) return false;
  const isTone = ({ midi }: MelodyNote) => chord.tones.some(({ pitchClass }) => pitchClass === midi % 12);
  return Math.abs(next.midi - note.midi) === 1 && !isTone(note) && isTone(next);
}

/**
 * An eleventh over a minor triad, with the third next under the same symbol. Larger chords keep their guide tones; a
 * diminished one is not suspended.
 */
function isSuspended(
  note: MelodyNote | undefined,
  next: MelodyNote | undefined,
  chord: Chord | undefined,
  span: ChordSpan | undefined,
): boolean {
  if (note === undefined || next === undefined || next.onset >= (span?.end ?? 0)) return false;
  if (chord === undefined || chord.isSeventhOrLarger) return false;
  const tone = (name: string) => chord.tones.find(({ label }) => label === name);
  const third = tone("5") && tone("b3");
  return next.midi % 12 === third?.pitchClass && note.midi - next.midi === 2;
}

/** The same symbol written again is no change. */
const isSameChord = (span: ChordSpan, before: ChordSpan | undefined): boolean =>
  span === before || (before !== undefined && isSameSymbol(span.symbol, before.symbol));

const crossesArrival = (arrivals: readonly number[], from: number, to: number): boolean =>
  countUntil(arrivals, from, itself) < countUntil(arrivals, to, itself);

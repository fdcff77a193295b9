import { type Chord, chordOf } from "../harmony/chord-tones.js";
import type { Link } from "../search/choice-graph.js";
import { neverPlayedOn } from "../song/never-played-on.js";
import { secondsBetween } from "../song/playing-time.js";
import type { ChordSpan, MelodyNote, MetricWeight, Tune } from "../song/tune.js";

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
  /** The first event under its chord symbol. */
  readonly isChordChange: boolean;
  /** How long what is struck here lasts, seconds: to the next event or the end of the note. */
  readonly seconds: number;
  /** A chord may ring on into this event: nothing is silent before it and playing arrives only from there. */
  readonly mayBeHeldInto: boolean;
}

/** Two events that follow one another in playing, with the time from one onset to the other. */
export interface EventLink extends Link {
  readonly seconds: number;
}

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
  const spanAt = (tick: number) => tune.chords.findLast((span) => span.start <= tick);
  const arrivals = new Set(tune.jumps.map((jump) => jump.to));
  const under = tune.melody.flatMap((note) => {
    const changes = [...tune.chords.map((span) => span.start), ...moments]
      .filter((at) => at > note.onset && at < endOf(note))
      .sort((one, other) => one - other);
    return [...new Set([note.onset, ...changes])].map((onset) => ({ onset, note, span: spanAt(onset) }));
  });
  const changesInRests = rests === "silent" ? [] : inRests(tune);
  const momentsInRests = moments
    .filter((at) => !changesInRests.some((event) => event.onset === at))
    .filter((at) => !tune.melody.some((note) => note.onset <= at && endOf(note) > at))
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
    return {
      index,
      ...event,
      end,
      isNoteOnset,
      weight: isNoteOnset && note !== undefined ? note.weight : 0,
      chord: span === undefined ? undefined : chords.get(span),
      isChordChange: span !== undefined && !isSameChord(span, before?.span),
      seconds: secondsBetween(tune, event.onset, end, tempo),
      mayBeHeldInto:
        before?.note !== undefined &&
        endOf(before.note) >= event.onset &&
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
    .filter((span) => !tune.melody.some((note) => note.onset <= span.start && endOf(note) > span.start))
    .map((span) => ({ onset: span.start, note: undefined, span }));
}

function endOfTune({ measures }: Tune): number {
  const last = measures.at(-1);
  return last === undefined ? 0 : last.start + last.length;
}

const endOf = (note: MelodyNote): number => note.onset + note.length;

/** The same symbol written again is no change. */
const isSameChord = (span: ChordSpan, before: ChordSpan | undefined): boolean =>
  span === before || (before !== undefined && JSON.stringify(span.symbol) === JSON.stringify(before.symbol));

const crossesArrival = (arrivals: ReadonlySet<number>, from: number, to: number): boolean =>
  [...arrivals].some((arrival) => arrival > from && arrival <= to);

/** What has to be known of an event to say which one follows it; its note where it may be one that rings on. */
type PlayedMoment = Pick<TuneEvent, "index" | "onset"> & Partial<Pick<TuneEvent, "note" | "isNoteOnset">>;

/**
 * Which events follow one another in playing: each the one before it, save where playing never goes on
 * (from a first ending into the second), and those that a jump joins.
 */
export function eventLinks(
  tune: Tune,
  events: readonly PlayedMoment[],
  tempo: number | undefined,
): readonly EventLink[] {
  const links: EventLink[] = [];
  const seconds = (from: number, to: number) => secondsBetween(tune, from, to, tempo);
  events.slice(1).forEach((event, index) => {
    const before = events[index];
    if (before === undefined) return;
    // A note tied into a second ending is written as one note, with one string and one finger.
    const ringsOn = event.note !== undefined && event.isNoteOnset === false;
    if (!ringsOn && neverPlayedOn(tune, before.onset, event.onset)) return;
    links.push({ from: index, to: index + 1, seconds: seconds(before.onset, event.onset) });
  });
  for (const jump of tune.jumps) {
    const last = events.findLast((event) => event.onset < jump.from);
    const next = events.find((event) => event.onset >= jump.to);
    if (last === undefined || next === undefined || last.index === next.index) continue;
    const isThere = links.some((link) => link.from === last.index && link.to === next.index);
    if (isThere) continue;
    links.push({
      from: last.index,
      to: next.index,
      seconds: seconds(last.onset, jump.from) + seconds(jump.to, next.onset),
    });
  }
  return links;
}

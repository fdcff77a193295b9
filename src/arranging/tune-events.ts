import { type Chord, chordOf } from "../harmony/chord-tones.js";
import { secondsBetween } from "../song/playing-time.js";
import type { ChordSpan, MelodyNote, Tune } from "../song/tune.js";
import type { Link } from "./path-problem.js";

/** A moment at which something is struck: a melody note, or a chord change under one that rings on. */
export interface TuneEvent {
  readonly index: number;
  readonly onset: number;
  readonly note: MelodyNote;
  /** false: the note began earlier and a chord changes under it. */
  readonly isNoteOnset: boolean;
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
 * The events of a tune in time order: every melody note, and every chord change that falls while one
 * sounds. Chord changes in a rest are silent.
 */
export function tuneEvents(tune: Tune, tempo: number | undefined): readonly TuneEvent[] {
  const chords = new Map(
    tune.chords.map((span) => [span, span.symbol === undefined ? undefined : chordOf(span.symbol)]),
  );
  const spanAt = (tick: number) => tune.chords.findLast((span) => span.start <= tick);
  const arrivals = new Set(tune.jumps.map((jump) => jump.to));
  const bare = tune.melody.flatMap((note) => {
    const changes = tune.chords
      .map((span) => span.start)
      .filter((start) => start > note.onset && start < note.onset + note.length);
    return [note.onset, ...changes].map((onset) => ({ onset, note, span: spanAt(onset) }));
  });
  return bare.map((event, index): TuneEvent => {
    const before = bare[index - 1];
    const end = Math.min(
      event.note.onset + event.note.length,
      bare[index + 1]?.onset ?? Number.POSITIVE_INFINITY,
    );
    const chord = event.span === undefined ? undefined : chords.get(event.span);
    return {
      index,
      ...event,
      isNoteOnset: event.onset === event.note.onset,
      chord,
      isChordChange: event.span !== undefined && event.span !== before?.span,
      seconds: secondsBetween(tune, event.onset, end, tempo),
      mayBeHeldInto:
        before !== undefined &&
        before.note.onset + before.note.length >= event.onset &&
        !crossesArrival(arrivals, before.onset, event.onset),
    };
  });
}

const crossesArrival = (arrivals: ReadonlySet<number>, from: number, to: number): boolean =>
  [...arrivals].some((arrival) => arrival > from && arrival <= to);

/**
 * Which events follow one another in playing: each the one before it, save where playing never goes on
 * (from a first ending into the second), and those that a jump joins.
 */
export function eventLinks(
  tune: Tune,
  events: readonly TuneEvent[],
  tempo: number | undefined,
): readonly EventLink[] {
  const links: EventLink[] = [];
  const seconds = (from: number, to: number) => secondsBetween(tune, from, to, tempo);
  events.slice(1).forEach((event, index) => {
    const before = events[index];
    if (before === undefined || neverPlayedOn(tune, before.onset, event.onset)) return;
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

/**
 * Whether written neighbours are never played one after the other: a jump back leaves between them and a
 * jump forward arrives there, as where a first ending stands before a second.
 */
function neverPlayedOn(tune: Tune, from: number, to: number): boolean {
  return tune.jumps.some(
    (back) =>
      back.from > from &&
      back.from <= to &&
      back.to < back.from &&
      tune.jumps.some((forward) => forward.to === back.from && forward.from < forward.to),
  );
}

import { countBefore } from "./in-time-order.js";
import { neverPlayedOn } from "./never-played-on.js";
import { secondsBetween } from "./playing-time.js";
import type { MelodyNote, Tune } from "./tune.js";

/** Two events that follow one another in playing, with the time from one onset to the other. */
export interface EventLink {
  /** Indexes of the two events. */
  readonly from: number;
  readonly to: number;
  readonly seconds: number;
}

/** What has to be known of an event to say which one follows it; its note where it may be one that rings on. */
export interface PlayedMoment {
  readonly index: number;
  readonly onset: number;
  readonly note?: MelodyNote | undefined;
  /** false: the note began earlier. */
  readonly isNoteOnset?: boolean;
}

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
  const known = new Set<string>();
  const join = (link: EventLink) => {
    const key = `${link.from}-${link.to}`;
    if (!known.has(key)) links.push(link);
    known.add(key);
  };
  events.forEach((event, index) => {
    const before = events[index - 1];
    if (before === undefined) return;
    // A note tied into a second ending is written as one note, with one string and one finger.
    const ringsOn = event.note !== undefined && event.isNoteOnset === false;
    if (!ringsOn && neverPlayedOn(tune, before.onset, event.onset)) return;
    join({ from: index - 1, to: index, seconds: seconds(before.onset, event.onset) });
  });
  for (const jump of tune.jumps) {
    const last = events[countBefore(events, jump.from, onsetOf) - 1];
    const next = events[countBefore(events, jump.to, onsetOf)];
    if (last === undefined || next === undefined || last.index === next.index) continue;
    join({
      from: last.index,
      to: next.index,
      seconds: seconds(last.onset, jump.from) + seconds(jump.to, next.onset),
    });
  }
  return links;
}

const onsetOf = ({ onset }: PlayedMoment): number => onset;

import { fretPositionMm, type Instrument } from "../guitar/instrument.js";
import { eventLinks } from "../song/playing-links.js";
import type { Tune } from "../song/tune.js";
import type { ArrangedEvent, Arrangement, Placement } from "./arrangement.js";

/** The hand on its way from one event to another; indexes of `Arrangement.events`. */
export interface Move {
  readonly from: number;
  readonly to: number;
  /** Along the neck. */
  readonly moveMm: number;
  readonly secondsAvailable: number;
}

/** Whether a move is faster than the hand is said to travel, mm a second. */
export const isBeyond = ({ moveMm, secondsAvailable }: Move, limit: number): boolean =>
  moveMm > limit * secondsAvailable;

/** What sounds at an event, low to high: the supporting notes and the melody above them. */
export function placementsAt(arrangement: Arrangement, event: ArrangedEvent): readonly Placement[] {
  const supports = event.supports.map((index) => arrangement.supports[index]);
  return [...supports, arrangement.melody[event.melodyNote ?? -1]].filter((note) => note !== undefined);
}

/** Between the lowest and the highest fret that is stopped, in mm; 0 for open strings alone. */
export function reachMm(instrument: Instrument, notes: readonly Placement[]): number {
  const places = notes.filter(({ fret }) => fret > 0).map(({ fret }) => fretPositionMm(instrument, fret));
  return places.length === 0 ? 0 : Math.max(...places) - Math.min(...places);
}

/**
 * Every move of the hand: from each event to the one played after it, across repeats and endings too.
 * Times do not depend on the key, so the tune may be the one before it was moved.
 */
export function movesOf(tune: Tune, arrangement: Arrangement, tempo: number | undefined): readonly Move[] {
  const { events } = arrangement;
  const handMm = (index: number) => events[index]?.handMm ?? 0;
  const played = events.map(({ onset, melodyNote }, index) => {
    const note = tune.melody[melodyNote ?? -1];
    return { onset, index, note, isNoteOnset: note?.onset === onset };
  });
  return eventLinks(tune, played, tempo).map(({ from, to, seconds }) => ({
    from,
    to,
    moveMm: Math.abs(handMm(to) - handMm(from)),
    secondsAvailable: seconds,
  }));
}

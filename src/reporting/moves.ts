import type { ArrangedEvent, Arrangement, Placement } from "../arranging/arrangement.js";
import { fretPositionMm, type Instrument } from "../guitar/instrument.js";
import { secondsBetween } from "../song/playing-time.js";
import type { Tune } from "../song/tune.js";

/** The hand on its way from one event to another; indexes of `Arrangement.events`. */
export interface Move {
  readonly from: number;
  readonly to: number;
  /** Along the neck. */
  readonly moveMm: number;
  readonly secondsAvailable: number;
}

/** What sounds at an event, low to high: the supporting notes and the melody above them. */
export function placementsAt(arrangement: Arrangement, event: ArrangedEvent): readonly Placement[] {
  const supports = event.supports.map((index) => arrangement.supports[index]);
  return [...supports, arrangement.melody[event.melodyNote]].filter((note) => note !== undefined);
}

/** Between the lowest and the highest fret that is stopped, in mm; 0 for open strings alone. */
export function reachMm(instrument: Instrument, notes: readonly Placement[]): number {
  const places = notes.filter(({ fret }) => fret > 0).map(({ fret }) => fretPositionMm(instrument, fret));
  return places.length === 0 ? 0 : Math.max(...places) - Math.min(...places);
}

/**
 * Every move of the hand: from each event to the next, and from where playing jumps back (a repeat, an
 * ending) to where it goes on.
 */
export function movesOf(tune: Tune, arrangement: Arrangement, tempo: number | undefined): readonly Move[] {
  const { events } = arrangement;
  const hand = handPlaces(arrangement);
  const move = (from: number, to: number, ticks: readonly [from: number, to: number]): Move => ({
    from,
    to,
    moveMm: Math.abs((hand[to] ?? 0) - (hand[from] ?? 0)),
    secondsAvailable: secondsBetween(tune, ...ticks, tempo),
  });
  const steps = events.slice(1).map((event, index) => {
    const before = events[index]?.onset ?? event.onset;
    return move(index, index + 1, [before, event.onset]);
  });
  const jumps = tune.jumps.flatMap((jump) => {
    const from = events.findLastIndex((event) => event.onset < jump.from);
    const to = events.findIndex((event) => event.onset >= jump.to);
    const [last, next] = [events[from], events[to]];
    if (last === undefined || next === undefined) return [];
    // The time left of the bar that ends, and what is silent after the jump, which plays at the tempo there.
    const onward = secondsBetween(tune, jump.to, next.onset, tempo);
    const back = move(from, to, [last.onset, jump.from]);
    return [{ ...back, secondsAvailable: back.secondsAvailable + onward }];
  });
  return [...steps, ...jumps];
}

/** Where the hand is at each event, in mm from the nut; over open strings it stays where it was. */
function handPlaces(arrangement: Arrangement): readonly number[] {
  const own = arrangement.events.map((event) =>
    handPlaceMm(arrangement.instrument, placementsAt(arrangement, event)),
  );
  let current = own.find((place) => place !== undefined) ?? 0;
  return own.map((place) => {
    current = place ?? current;
    return current;
  });
}

/** The fret under the index finger, reckoned from the lowest finger in use at a finger a fret. */
function handPlaceMm(instrument: Instrument, notes: readonly Placement[]): number | undefined {
  const stopped = notes.filter(({ finger }) => finger > 0);
  const lowest = stopped.reduce<Placement | undefined>(
    (least, note) => (least === undefined || note.finger < least.finger ? note : least),
    undefined,
  );
  if (lowest === undefined) return undefined;
  return fretPositionMm(instrument, Math.max(1, lowest.fret - (lowest.finger - 1)));
}

import type { ArrangedEvent, Arrangement, Placement } from "../../arrangement/arrangement.js";
import { placementsAt } from "../../arrangement/hand-moves.js";
import { countUntil } from "../../song/in-time-order.js";
import type { Tune } from "../../song/tune.js";

/** Whose fingers are printed where something is struck. */
export type ShownFingers = "all" | "melody" | "none";

/**
 * Whose fingers are printed at each time: of what the hand did not hold the moment before, on the same
 * strings with the same fingers. A melody note over the chord of before has its finger alone; where another
 * chord is struck, all of it has, since a digit over a chord does not say whose it is. Where playing arrives
 * from elsewhere, so does the hand.
 */
export function shownFingers(tune: Tune, arrangement: Arrangement): ReadonlyMap<number, ShownFingers> {
  const arrivals = tune.jumps.map(({ to }) => to).sort((one, other) => one - other);
  const arrivalsUntil = (tick: number) => countUntil(arrivals, tick, (arrival) => arrival);
  const shown = new Map<number, ShownFingers>();
  let before: ArrangedEvent | undefined;
  for (const event of arrangement.events) {
    const held = before === undefined ? [] : placementsAt(arrangement, before);
    const arrives = before === undefined || arrivalsUntil(before.onset) < arrivalsUntil(event.onset);
    const stays = (note: Placement) =>
      !arrives && (note.finger === 0 || held.some((one) => isSame(one, note)));
    const chordStays = supportsAt(arrangement, event).every(stays);
    const melodyStays = melodyAt(tune, arrangement, event).every(stays);
    shown.set(event.onset, !chordStays ? "all" : !melodyStays ? "melody" : "none");
    before = event;
  }
  return shown;
}

/** The supporting notes that begin at an event. */
const supportsAt = ({ supports }: Arrangement, event: ArrangedEvent): readonly Placement[] =>
  event.supports.flatMap((index) => {
    const support = supports[index];
    return support?.onset === event.onset ? [support] : [];
  });

/** The melody note that begins at an event, if one does. */
function melodyAt(tune: Tune, { melody }: Arrangement, event: ArrangedEvent): readonly Placement[] {
  const note = tune.melody[event.melodyNote ?? -1];
  const place = melody[event.melodyNote ?? -1];
  return note?.onset === event.onset && place !== undefined ? [place] : [];
}

const isSame = (one: Placement, other: Placement): boolean =>
  one.string === other.string && one.fret === other.fret && one.finger === other.finger;

import type { Arrangement, PlacedGrace } from "../arrangement/arrangement.js";
import type { SoundingString } from "../guitar/fingering.js";
import type { Finger } from "../guitar/grip.js";
import { fretPositionMm } from "../guitar/instrument.js";
import { countBefore } from "../song/in-time-order.js";
import { type Fretboard, melodyPlaces } from "./candidates/struck-grips.js";

/** A grace note to be placed: single, ornamenting the event it stands before. */
export interface GraceNote {
  readonly id: number;
  readonly onset: number;
  /** Sounding, already moved. */
  readonly midi: number;
}

/** Where a grace note has to be played; any finger where none is given. */
export interface GracePlace extends SoundingString {
  readonly finger: Finger | undefined;
}

/**
 * String, fret and finger of each grace note, by its id: the place nearest to the hand that plays the note
 * it ornaments, with the finger that lies there in position. What is `fixed` stays.
 */
export function gracePlacements(
  graces: readonly GraceNote[],
  arrangement: Arrangement,
  board: Fretboard,
  fixed: ReadonlyMap<number, GracePlace> = new Map(),
): ReadonlyMap<number, PlacedGrace> {
  const { instrument } = board;
  const { events } = arrangement;
  const placed = new Map<number, PlacedGrace>();
  for (const { id, onset, midi } of graces) {
    const event = events[countBefore(events, onset, (other) => other.onset)] ?? events.at(-1);
    const handMm = event?.handMm ?? 0;
    const distance = (fret: number) => (fret === 0 ? 0 : Math.abs(fretPositionMm(instrument, fret) - handMm));
    const [nearest] = melodyPlaces(board, midi).toSorted((a, b) => distance(a.fret) - distance(b.fret));
    const asked = fixed.get(id);
    const place = asked ?? nearest;
    if (place === undefined) continue;
    const { string, fret } = place;
    const finger = asked?.finger ?? fingerInPosition(fret, indexFret(handMm));
    placed.set(id, { onset, midi, string, fret, finger });
  }
  return placed;

  function indexFret(handMm: number): number {
    let fret = 1;
    while (fret < instrument.frets && fretPositionMm(instrument, fret) < handMm - 1) fret += 1;
    return fret;
  }
}

const fingerInPosition = (fret: number, indexFret: number): Finger =>
  fret === 0 ? 0 : (Math.max(1, Math.min(4, fret - indexFret + 1)) as Finger);

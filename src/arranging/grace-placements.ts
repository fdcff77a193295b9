import type { Finger } from "../guitar/grip.js";
import { fretPositionMm } from "../guitar/instrument.js";
import type { Arrangement, Placement } from "./arrangement.js";
import { type Fretboard, melodyPlaces } from "./struck-grips.js";

/** A grace note to be placed: single, ornamenting the event it stands before. */
export interface GraceNote {
  readonly id: number;
  readonly onset: number;
  /** Sounding, already moved. */
  readonly midi: number;
}

/**
 * String, fret and finger of each grace note: the place nearest to the hand that plays the note it
 * ornaments, with the finger that lies there in position.
 */
export function gracePlacements(
  graces: readonly GraceNote[],
  arrangement: Arrangement,
  board: Fretboard,
): ReadonlyMap<number, Placement> {
  const { instrument } = board;
  const placed = new Map<number, Placement>();
  for (const grace of graces) {
    const event =
      arrangement.events.find((candidate) => candidate.onset >= grace.onset) ?? arrangement.events.at(-1);
    const handMm = event?.handMm ?? 0;
    const distance = (fret: number) => (fret === 0 ? 0 : Math.abs(fretPositionMm(instrument, fret) - handMm));
    const nearest = melodyPlaces(board, grace.midi).toSorted(
      (a, b) => distance(a.fret) - distance(b.fret),
    )[0];
    if (nearest === undefined) continue;
    placed.set(grace.id, { ...nearest, finger: fingerInPosition(nearest.fret, indexFret(handMm)) });
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

import type { ChoiceClasses } from "../../search/choice-graph.js";
import { NO_PLACE } from "../grips/grip-rows.js";
import type { PackedColumn } from "../grips/packed-column.js";
import { wayMm } from "./travel-cost.js";

/** The candidates of a column by where the hand is; class 0 leaves it free to be anywhere. */
export interface PlaceClasses {
  readonly classes: ChoiceClasses;
  /** The places a class reaches from and to, mm from the nut. */
  readonly lowestMm: readonly number[];
  readonly highestMm: readonly number[];
}

/** Width of a class: about the narrowest space between two frets, so that few places share one. */
const CLASS_MM = 12;

const known = new WeakMap<PackedColumn, PlaceClasses>();

/** The classes of a column's candidates; found once. */
export function placeClasses(column: PackedColumn): PlaceClasses {
  const before = known.get(column);
  if (before !== undefined) return before;
  const of = new Uint8Array(column.size);
  const lowestMm = [0];
  const highestMm = [0];
  const classOfCell = new Map<number, number>();
  column.placeMm.forEach((mm, row) => {
    if (mm === NO_PLACE) return;
    const cell = Math.floor(mm / CLASS_MM);
    let one = classOfCell.get(cell);
    if (one === undefined) {
      one = lowestMm.push(mm) - 1;
      highestMm.push(mm);
      classOfCell.set(cell, one);
    }
    lowestMm[one] = Math.min(lowestMm[one] ?? mm, mm);
    highestMm[one] = Math.max(highestMm[one] ?? mm, mm);
    of[row] = one;
  });
  const found = { classes: { count: lowestMm.length, of }, lowestMm, highestMm };
  known.set(column, found);
  return found;
}

/**
 * What a cost that hangs on how far the hand goes comes to between two grips, worked out once for two places; that of
 * no way where one of them leaves the hand free to be anywhere.
 */
export function betweenPlaces(
  earlier: PackedColumn,
  later: PackedColumn,
  costOf: (mm: number) => number,
): (from: number, to: number) => number {
  const from = places(earlier);
  const to = places(later);
  const cost = workedOnce(from.mm.length, to.mm.length, (fromPlace, toPlace) =>
    costOf(wayMm(from.mm[fromPlace], to.mm[toPlace])),
  );
  return (one, other) => cost(from.of[one] ?? 0, to.of[other] ?? 0);
}

/** The places of a column's candidates, each once, and which of them each has; place 0 leaves the hand free. */
interface Places {
  readonly mm: readonly number[];
  readonly of: Uint16Array;
}

const listed = new WeakMap<PackedColumn, Places>();

function places(column: PackedColumn): Places {
  const before = listed.get(column);
  if (before !== undefined) return before;
  const mm = [NO_PLACE];
  const of = new Uint16Array(column.size);
  const numbers = new Map<number, number>([[NO_PLACE, 0]]);
  for (let row = 0; row < column.size; row += 1) {
    const place = column.placeMm[row] ?? NO_PLACE;
    let number = numbers.get(place);
    if (number === undefined) {
      number = mm.push(place) - 1;
      numbers.set(place, number);
    }
    of[row] = number;
  }
  const found = { mm, of };
  listed.set(column, found);
  return found;
}

/** The least that the way of the hand costs between two classes, in whole points, so that no rounding of sums is below it. */
export function leastWay(
  earlier: PackedColumn,
  later: PackedColumn,
  wayCost: (mm: number) => number,
): (fromClass: number, toClass: number) => number {
  const from = placeClasses(earlier);
  const to = placeClasses(later);
  return workedOnce(from.classes.count, to.classes.count, (fromClass, toClass) => {
    if (fromClass === 0 || toClass === 0) return 0;
    const mm = Math.max(
      0,
      (to.lowestMm[toClass] ?? 0) - (from.highestMm[fromClass] ?? 0),
      (from.lowestMm[fromClass] ?? 0) - (to.highestMm[toClass] ?? 0),
    );
    return Math.floor(wayCost(mm));
  });
}

const NOT_KNOWN = -1;

/** What something costs from each of some numbers to each of others, worked out once for two of them. */
function workedOnce(
  fromCount: number,
  toCount: number,
  costOf: (from: number, to: number) => number,
): (from: number, to: number) => number {
  const known = new Float64Array(fromCount * toCount).fill(NOT_KNOWN);
  return (from, to) => {
    const at = from * toCount + to;
    const before = known[at] ?? NOT_KNOWN;
    if (before !== NOT_KNOWN) return before;
    const cost = costOf(from, to);
    known[at] = cost;
    return cost;
  };
}

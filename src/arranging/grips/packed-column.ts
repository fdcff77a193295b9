import type { Attack } from "../../arrangement/arrangement.js";
import type { Finger } from "../../guitar/grip.js";
import { type Candidate, isRingingOn, ringsFromBefore, type SungLine } from "./candidate.js";
import {
  type GripNumbers,
  GripRows,
  melodyPlaceOf,
  NO_MELODY,
  NO_PLACE,
  noteNumber,
  numbersFor,
} from "./grip-rows.js";
import type { Supports } from "./supports.js";

/**
 * What can be done at an event, one row of numbers a candidate, with all that a step from one to another has to
 * know: the search asks for hundreds of thousands of steps, and whole numbers side by side are read faster than
 * objects. A candidate itself is made when it is asked for, which most never are.
 */
export interface PackedColumn extends GripNumbers {
  readonly size: number;
  /** Points of each candidate by itself. */
  readonly cost: Float64Array;
  /** Its supporting notes are those of an ensemble's voices. */
  readonly isSung: boolean;
  readonly isHeld: Uint8Array;
  readonly isSingle: Uint8Array;
  /** Less rings on than what was struck. */
  readonly isThinned: Uint8Array;
  /** The candidates that have the melody at a place, by that number. */
  readonly withMelody: (melody: number) => readonly number[];
  /** Whether something of a candidate must have sounded before. */
  readonly ringsFromBefore: Uint8Array;
  readonly supportsAt: (row: number) => Supports;
  /** The voices of an ensemble that a candidate's supporting notes are; undefined where they are none. */
  readonly linesAt: (row: number) => readonly SungLine[] | undefined;
  /** See `heldFrom` of a candidate. */
  readonly heldFromAt: (row: number) => readonly string[] | undefined;
  /** Supporting notes that must have sounded before, as numbers; asked where `heldFromAt` says nothing. */
  readonly ringingNotesAt: (row: number) => readonly number[];
  /** The candidates that have the same supporting notes under the same fingers, by their name. */
  readonly withSupports: (name: string) => readonly number[];
  readonly candidate: (row: number) => Candidate;
  /** All of them. */
  readonly candidates: readonly Candidate[];
}

/** Grips that sound alike: all struck, say. Entries of the lists go together. */
export interface ColumnPart {
  readonly attack: Attack;
  readonly grips: GripRows;
  /** Their rows. */
  readonly rows: ArrayLike<number>;
  readonly costs: ArrayLike<number>;
  readonly heldFrom?: readonly (readonly string[])[];
}

/** Supporting notes of a candidate that must have sounded before, as numbers. */
function ringingNotes(one: Candidate): readonly number[] {
  return one.degrees.flatMap((_, index) => {
    const { string, fret } = one.strings[index] ?? { string: 0, fret: 0 };
    return isRingingOn(one, string) ? [noteNumber(string, fret, one.fingers[index] ?? 0)] : [];
  });
}

/** A column of some grips, part after part. */
export function columnOf(parts: readonly ColumnPart[]): PackedColumn {
  const size = parts.reduce((sum, { rows }) => sum + rows.length, 0);
  const cost = new Float64Array(size);
  const attacks: Attack[] = [];
  const heldFrom: (readonly string[] | undefined)[] = [];
  for (const part of parts) {
    cost.set(part.costs, attacks.length);
    for (let index = 0; index < part.rows.length; index += 1) {
      attacks.push(part.attack);
      heldFrom.push(part.heldFrom?.[index]);
    }
  }
  const made: (Candidate | undefined)[] = Array.from({ length: size });
  const candidate = (row: number): Candidate => {
    made[row] ??= candidateOf(row);
    return made[row];
  };
  const column = gathered(parts, cost, {
    attackAt: (row) => attacks[row] ?? "single",
    isRinging: (row) => heldFrom[row] !== undefined,
    isThinned: (row, { name }) => heldFrom[row]?.includes(name) === false,
    linesAt: () => undefined,
    heldFromAt: (row) => heldFrom[row],
    ringingNotesAt: (row) => ringingNotes(candidate(row)),
    candidate,
  });
  return column;

  function candidateOf(row: number): Candidate {
    const supports = column.supportsAt(row);
    const { strings, fingers, midis, degrees } = supports;
    const place = melodyPlaceOf(column.melody[row] ?? NO_MELODY);
    const mm = column.placeMm[row] ?? NO_PLACE;
    const from = heldFrom[row];
    return {
      attack: attacks[row] ?? "single",
      strings: place === undefined ? strings : [...strings, { string: place.string, fret: place.fret }],
      fingers: place === undefined ? fingers : [...fingers, place.finger as Finger],
      midis: place === undefined ? midis : [...midis, column.top[row] ?? 0],
      degrees,
      supports,
      ...(from === undefined ? {} : { heldFrom: from }),
      isThinned: column.isThinned[row] === 1,
      cost: cost[row] ?? 0,
      placeMm: mm === NO_PLACE ? undefined : mm,
      fingerUses: [...column.fingers.subarray(row * 4, row * 4 + 4)],
    };
  }
}

const packed = new WeakMap<readonly Candidate[], PackedColumn>();

/** A column of candidates that exist already; found once for each list. */
export function packedColumn(candidates: readonly Candidate[]): PackedColumn {
  const before = packed.get(candidates);
  if (before !== undefined) return before;
  const grips = new GripRows(candidates.length);
  const rows = Int32Array.from(candidates, (one) => grips.add(one));
  const at = (row: number): Candidate => {
    const one = candidates[row];
    if (one === undefined) throw new RangeError(`a column of ${candidates.length} has no row ${row}`);
    return one;
  };
  const column = gathered(
    [{ grips, rows }],
    Float64Array.from(candidates, ({ cost }) => cost),
    {
      attackAt: (row) => at(row).attack,
      isRinging: (row) => ringsFromBefore(at(row)),
      isThinned: (row) => at(row).isThinned,
      linesAt: (row) => at(row).lines,
      heldFromAt: (row) => at(row).heldFrom,
      ringingNotesAt: (row) => ringingNotes(at(row)),
      candidate: at,
    },
  );
  packed.set(candidates, column);
  return column;
}

/** What a column knows of its candidates beside their grips. */
interface Attacks extends Pick<PackedColumn, "linesAt" | "heldFromAt" | "ringingNotesAt" | "candidate"> {
  readonly attackAt: (row: number) => Attack;
  readonly isRinging: (row: number) => boolean;
  readonly isThinned: (row: number, supports: Supports) => boolean;
}

/** The numbers of some grips side by side. */
function gathered(
  parts: readonly Pick<ColumnPart, "grips" | "rows">[],
  cost: Float64Array,
  attacks: Attacks,
): PackedColumn {
  const size = cost.length;
  const supports: Supports[] = [];
  const supportsAt = (row: number): Supports => {
    const there = supports[row];
    if (there === undefined) throw new RangeError(`a column of ${size} has no row ${row}`);
    return there;
  };
  const { attackAt, isRinging, isThinned, linesAt, heldFromAt, ringingNotesAt, candidate } = attacks;
  const numbers = numbersFor(size);
  let all: readonly Candidate[] | undefined;
  const column = {
    size,
    cost,
    ...numbers,
    isHeld: new Uint8Array(size),
    isSingle: new Uint8Array(size),
    isThinned: new Uint8Array(size),
    withMelody: rowsBy(size, (row) => numbers.melody[row] ?? NO_MELODY),
    ringsFromBefore: new Uint8Array(size),
    supportsAt,
    linesAt,
    heldFromAt,
    ringingNotesAt,
    withSupports: rowsBy(size, (row) => supportsAt(row).name),
    candidate,
    get candidates(): readonly Candidate[] {
      all ??= Array.from({ length: size }, (_, row) => candidate(row));
      return all;
    },
  };
  for (const { grips, rows } of parts) {
    for (let index = 0; index < rows.length; index += 1) {
      grips.copy(rows[index] ?? 0, column, supports.length);
      supports.push(grips.supportsAt(rows[index] ?? 0));
    }
  }
  let isSung = false;
  for (let row = 0; row < size; row += 1) {
    const attack = attackAt(row);
    column.isHeld[row] = Number(attack === "held");
    column.isSingle[row] = Number(attack === "single");
    column.isThinned[row] = Number(isThinned(row, supportsAt(row)));
    column.ringsFromBefore[row] = Number(isRinging(row));
    isSung ||= linesAt(row) !== undefined;
  }
  return Object.assign(column, { isSung });
}

/** Finds rows by a key of theirs; the list is made when first asked for. */
function rowsBy<Key>(size: number, keyOf: (row: number) => Key): (key: Key) => readonly number[] {
  let lists: Map<Key, number[]> | undefined;
  return (key) => {
    if (lists === undefined) {
      lists = new Map();
      for (let row = 0; row < size; row += 1) {
        const list = lists.get(keyOf(row));
        if (list === undefined) lists.set(keyOf(row), [row]);
        else list.push(row);
      }
    }
    return lists.get(key) ?? NO_ROWS;
  };
}

const NO_ROWS: readonly number[] = [];

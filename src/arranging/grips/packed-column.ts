import type { Attack } from "../../arrangement/arrangement.js";
import type { Finger } from "../../guitar/grip.js";
import { type Candidate, isRingingOn, ringsFromBefore, type SungLines } from "./candidate.js";
import {
  type GripNumbers,
  GripRows,
  melodyPlaceOf,
  NO_MELODY,
  NO_PLACE,
  noteNumber,
  numbersFor,
} from "./grip-rows.js";
import { nameOfNote, type Supports } from "./supports.js";

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
  supportsAt(row: number): Supports;
  /** The voices of an ensemble that a candidate's supporting notes are; undefined where they are none. */
  readonly linesAt: (row: number) => SungLines | undefined;
  /** See `heldFrom` of a candidate. */
  readonly heldFromAt: (row: number) => readonly string[] | undefined;
  /** Supporting notes that must have sounded before, as numbers; asked where `heldFromAt` says nothing. */
  readonly ringingNotesAt: (row: number) => readonly number[];
  /** Whether that names the melody note of before among what rings on; see `keepsMelody` of a candidate. */
  readonly keepsMelody: Uint8Array;
  /** The candidates that have the same supporting notes under the same fingers, by their name. */
  readonly withSupports: (name: string) => readonly number[];
  /** The same, with the melody note the last in the name. */
  readonly withNotes: (name: string) => readonly number[];
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
  /** See `keepsMelody` of a candidate. */
  readonly keepsMelody?: true;
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
  const keepsMelody: boolean[] = [];
  for (const part of parts) {
    cost.set(part.costs, attacks.length);
    for (let index = 0; index < part.rows.length; index += 1) {
      attacks.push(part.attack);
      heldFrom.push(part.heldFrom?.[index]);
      keepsMelody.push(part.keepsMelody === true);
    }
  }
  const made: (Candidate | undefined)[] = Array.from({ length: size });
  const candidate = (row: number): Candidate => {
    made[row] ??= candidateOf(row);
    return made[row];
  };
  const column = new GatheredColumn(parts, cost, {
    attackAt: (row) => attacks[row] ?? "single",
    isRinging: (row) => heldFrom[row] !== undefined,
    isThinned: (row, { name }) => heldFrom[row]?.includes(name) === false,
    linesAt: () => undefined,
    heldFromAt: (row) => heldFrom[row],
    keepsMelody: (row) => keepsMelody[row] === true,
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
      ...(keepsMelody[row] ? { keepsMelody: true as const } : {}),
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
  const column = new GatheredColumn(
    [{ grips, rows }],
    Float64Array.from(candidates, ({ cost }) => cost),
    {
      attackAt: (row) => at(row).attack,
      isRinging: (row) => ringsFromBefore(at(row)),
      isThinned: (row) => at(row).isThinned,
      linesAt: (row) => at(row).lines,
      heldFromAt: (row) => at(row).heldFrom,
      keepsMelody: (row) => at(row).keepsMelody === true,
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
  readonly keepsMelody: (row: number) => boolean;
}

/**
 * The numbers of some grips side by side. A class, since in an object literal with a getter the engine looks every
 * number up by its name.
 */
class GatheredColumn implements PackedColumn {
  readonly size: number;
  readonly placeMm: Float64Array;
  readonly fingers: Int32Array;
  readonly voices: Uint8Array;
  readonly supports: Uint8Array;
  readonly isOnRoot: Uint8Array;
  readonly top: Uint8Array;
  readonly strings: Int32Array;
  readonly stringCount: Uint8Array;
  readonly frets: Uint8Array;
  readonly isTiring: Uint8Array;
  readonly melody: Int32Array;
  readonly isHeld: Uint8Array;
  readonly isSingle: Uint8Array;
  readonly isThinned: Uint8Array;
  readonly ringsFromBefore: Uint8Array;
  readonly keepsMelody: Uint8Array;
  readonly isSung: boolean;
  readonly linesAt: PackedColumn["linesAt"];
  readonly heldFromAt: PackedColumn["heldFromAt"];
  readonly ringingNotesAt: PackedColumn["ringingNotesAt"];
  readonly candidate: PackedColumn["candidate"];
  readonly withMelody: PackedColumn["withMelody"];
  readonly withSupports: PackedColumn["withSupports"];
  readonly withNotes: PackedColumn["withNotes"];
  private readonly notesUnder: Supports[] = [];
  private all: readonly Candidate[] | undefined;

  constructor(
    parts: readonly Pick<ColumnPart, "grips" | "rows">[],
    readonly cost: Float64Array,
    { attackAt, isRinging, isThinned, keepsMelody, linesAt, heldFromAt, ringingNotesAt, candidate }: Attacks,
  ) {
    const size = cost.length;
    const numbers = numbersFor(size);
    this.size = size;
    this.placeMm = numbers.placeMm;
    this.fingers = numbers.fingers;
    this.voices = numbers.voices;
    this.supports = numbers.supports;
    this.isOnRoot = numbers.isOnRoot;
    this.top = numbers.top;
    this.strings = numbers.strings;
    this.stringCount = numbers.stringCount;
    this.frets = numbers.frets;
    this.isTiring = numbers.isTiring;
    this.melody = numbers.melody;
    this.isHeld = new Uint8Array(size);
    this.isSingle = new Uint8Array(size);
    this.isThinned = new Uint8Array(size);
    this.ringsFromBefore = new Uint8Array(size);
    this.keepsMelody = new Uint8Array(size);
    this.linesAt = linesAt;
    this.heldFromAt = heldFromAt;
    this.ringingNotesAt = ringingNotesAt;
    this.candidate = candidate;
    this.withMelody = rowsBy(size, (row) => this.melody[row] ?? NO_MELODY);
    this.withSupports = rowsBy(size, (row) => this.supportsAt(row).name);
    this.withNotes = rowsBy(size, (row) => nameOfNotes(this, row));
    for (const { grips, rows } of parts) {
      for (let index = 0; index < rows.length; index += 1) {
        grips.copy(rows[index] ?? 0, this, this.notesUnder.length);
        this.notesUnder.push(grips.supportsAt(rows[index] ?? 0));
      }
    }
    let isSung = false;
    for (let row = 0; row < size; row += 1) {
      const attack = attackAt(row);
      this.isHeld[row] = Number(attack === "held");
      this.isSingle[row] = Number(attack === "single");
      this.isThinned[row] = Number(isThinned(row, this.supportsAt(row)));
      this.ringsFromBefore[row] = Number(isRinging(row));
      this.keepsMelody[row] = Number(keepsMelody(row));
      isSung ||= linesAt(row) !== undefined;
    }
    this.isSung = isSung;
  }

  supportsAt(row: number): Supports {
    const there = this.notesUnder[row];
    if (there === undefined) throw new RangeError(`a column of ${this.size} has no row ${row}`);
    return there;
  }

  get candidates(): readonly Candidate[] {
    this.all ??= Array.from({ length: this.size }, (_, row) => this.candidate(row));
    return this.all;
  }
}

/** The name of a candidate's supporting notes with its melody note as the last of them. */
function nameOfNotes(column: PackedColumn, row: number): string {
  const place = melodyPlaceOf(column.melody[row] ?? NO_MELODY);
  const { name } = column.supportsAt(row);
  return place === undefined ? name : name + nameOfNote(place.string, place.fret, place.finger);
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

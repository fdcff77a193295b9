import {
  type Candidate,
  isRingingOn,
  melodyFinger,
  melodyString,
  ringsFromBefore,
  supportCount,
} from "./candidate.js";
import { isTiring } from "./costs/tiring-barre.js";

/**
 * The candidates of an event as rows of numbers, all that a step from one to another has to know: the search
 * asks for hundreds of thousands of steps, and whole numbers side by side are read faster than objects.
 */
export interface PackedColumn {
  readonly candidates: readonly Candidate[];
  readonly size: number;
  /** Its supporting notes are those of an ensemble's voices. */
  readonly isSung: boolean;
  /** Where the hand is, mm from the nut; NO_PLACE where it is free to be anywhere. */
  readonly placeMm: Float64Array;
  /** Four entries a candidate, index finger first: what each finger stops, 0 where it is not down; see `fingerUse`. */
  readonly fingers: Int32Array;
  /** MIDI numbers of the supporting notes from the lowest up, VOICES entries a candidate. */
  readonly voices: Uint8Array;
  readonly supports: Uint8Array;
  /** MIDI number of the highest note, 0 where nothing sounds. */
  readonly top: Uint8Array;
  /** One bit for each string that sounds, and how many do. */
  readonly strings: Int32Array;
  readonly stringCount: Uint8Array;
  /** By string, STRINGS entries a candidate: the fret that sounds and one more, 0 where the string is silent. */
  readonly frets: Uint8Array;
  readonly isHeld: Uint8Array;
  readonly isSingle: Uint8Array;
  readonly isTiring: Uint8Array;
  /** Less rings on than what was struck. */
  readonly isThinned: Uint8Array;
  /** String, fret and finger of the melody note as one number; -1 where the melody rests. */
  readonly melody: Int32Array;
  /** The candidates that have the melody at a place, by that number. */
  readonly withMelody: (melody: number) => readonly number[];
  /** Whether something of a candidate must have sounded before. */
  readonly ringsFromBefore: Uint8Array;
  /** The candidates that have the same supporting notes under the same fingers, by their name. */
  readonly withSupports: (name: string) => readonly number[];
}

export const NO_PLACE = -1;

/** Supporting notes listed for a candidate; no grip has more. */
export const VOICES = 8;

/** Strings listed for a candidate; no instrument has more. */
export const STRINGS = 12;

/** A note on a string under a finger as one number. */
export const noteNumber = (string: number, fret: number, finger: number): number =>
  (string << 9) | (fret << 3) | finger;

/** The same string and fret, whatever the finger. */
export const isSamePlace = (one: number, other: number): boolean => one >> 3 === other >> 3;

/** Supporting notes of a candidate that must have sounded before, as numbers. */
export function ringingNotes(one: Candidate): readonly number[] {
  return one.degrees.flatMap((_, index) => {
    const { string, fret } = one.strings[index] ?? { string: 0, fret: 0 };
    return isRingingOn(one, string) ? [noteNumber(string, fret, one.fingers[index] ?? 0)] : [];
  });
}

const packed = new WeakMap<readonly Candidate[], PackedColumn>();

/** A column of candidates as rows of numbers; found once for each list. */
export function packedColumn(candidates: readonly Candidate[]): PackedColumn {
  const before = packed.get(candidates);
  if (before !== undefined) return before;
  const size = candidates.length;
  const melody = new Int32Array(size);
  const column = {
    candidates,
    size,
    isSung: candidates.some((one) => one.lines !== undefined),
    placeMm: new Float64Array(size),
    fingers: new Int32Array(size * 4),
    voices: new Uint8Array(size * VOICES),
    supports: new Uint8Array(size),
    top: new Uint8Array(size),
    strings: new Int32Array(size),
    stringCount: new Uint8Array(size),
    frets: new Uint8Array(size * STRINGS),
    isHeld: new Uint8Array(size),
    isSingle: new Uint8Array(size),
    isTiring: new Uint8Array(size),
    isThinned: new Uint8Array(size),
    melody,
    withMelody: rowsBy(size, (row) => melody[row] ?? -1),
    ringsFromBefore: new Uint8Array(size),
    withSupports: rowsBy(size, (row) => candidates[row]?.supports.name ?? ""),
  };
  for (const [row, one] of candidates.entries()) {
    const count = supportCount(one);
    column.placeMm[row] = one.placeMm ?? NO_PLACE;
    for (let finger = 0; finger < 4; finger += 1) {
      column.fingers[row * 4 + finger] = one.fingerUses[finger] ?? 0;
    }
    column.supports[row] = count;
    column.top[row] = one.midis.at(-1) ?? 0;
    column.stringCount[row] = one.strings.length;
    let strings = 0;
    for (let index = 0; index < one.strings.length; index += 1) {
      const note = one.strings[index];
      if (note === undefined) continue;
      strings |= 1 << note.string;
      column.frets[row * STRINGS + note.string - 1] = note.fret + 1;
      if (index >= count) continue;
      column.voices[row * VOICES + index] = one.midis[index] ?? 0;
    }
    column.strings[row] = strings;
    column.isHeld[row] = Number(one.attack === "held");
    column.isSingle[row] = Number(one.attack === "single");
    column.isTiring[row] = Number(isTiring(one));
    column.isThinned[row] = Number(one.isThinned);
    column.ringsFromBefore[row] = Number(ringsFromBefore(one));
    const place = melodyString(one);
    melody[row] = place === undefined ? -1 : noteNumber(place.string, place.fret, melodyFinger(one));
  }
  packed.set(candidates, column);
  return column;
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

import type { Candidate } from "./candidate.js";
import type { Supports } from "./supports.js";
import { isTiring } from "./tiring-barre.js";

export const NO_PLACE = -1;
export const NO_MELODY = -1;

/** Supporting notes listed for a grip; no grip has more. */
export const VOICES = 8;

/** Strings listed for a grip; no instrument has more. */
export const STRINGS = 12;

const FINGERS = 4;

/** A note on a string under a finger as one number. */
export const noteNumber = (string: number, fret: number, finger: number): number =>
  (string << 9) | (fret << 3) | finger;

/** The same string and fret, whatever the finger. */
export const isSamePlace = (one: number, other: number): boolean => one >> 3 === other >> 3;

/** The string in such a number; 0 for NO_MELODY. */
export const melodyStringOf = (note: number): number => (note === NO_MELODY ? 0 : note >> 9);

/** What `noteNumber` stands for; undefined for NO_MELODY. */
export const melodyPlaceOf = (note: number) =>
  note === NO_MELODY ? undefined : { string: melodyStringOf(note), fret: (note >> 3) & 63, finger: note & 7 };

/** The numbers that a step from one grip to another has to know, side by side for many grips; see `PackedColumn`. */
export interface GripNumbers {
  /** Where the hand is, mm from the nut; NO_PLACE where it is free to be anywhere. */
  readonly placeMm: Float64Array;
  /** Four entries a grip, index finger first: what each finger stops, 0 where it is not down; see `fingerUse`. */
  readonly fingers: Int32Array;
  /** MIDI numbers of the supporting notes from the lowest up, VOICES entries a grip. */
  readonly voices: Uint8Array;
  readonly supports: Uint8Array;
  /** Whether the lowest of them is the root of its chord, or the bass that the symbol names. */
  readonly isOnRoot: Uint8Array;
  /** MIDI number of the highest note, 0 where nothing sounds. */
  readonly top: Uint8Array;
  /** One bit for each string that sounds, and how many do. */
  readonly strings: Int32Array;
  readonly stringCount: Uint8Array;
  /** By string, STRINGS entries a grip: the fret that sounds and one more, 0 where the string is silent. */
  readonly frets: Uint8Array;
  readonly isTiring: Uint8Array;
  /** String, fret and finger of the melody note as one number; NO_MELODY where the melody rests. */
  readonly melody: Int32Array;
}

/** Room for the numbers of so many grips, all in one piece: widest first, so that each list lies where it may. */
export function numbersFor(count: number): GripNumbers {
  const buffer = new ArrayBuffer(count * (8 + 4 * (FINGERS + 2) + VOICES + STRINGS + 5));
  let at = 0;
  const bytes = (each: number): number => {
    const start = at;
    at += count * each;
    return start;
  };
  const numbers = (each = 1) => new Int32Array(buffer, bytes(each * 4), count * each);
  const small = (each = 1) => new Uint8Array(buffer, bytes(each), count * each);
  return {
    placeMm: new Float64Array(buffer, bytes(8), count),
    fingers: numbers(FINGERS),
    strings: numbers(),
    melody: numbers(),
    voices: small(VOICES),
    frets: small(STRINGS),
    supports: small(),
    isOnRoot: small(),
    top: small(),
    stringCount: small(),
    isTiring: small(),
  };
}

const isRootOrBass = (degree: string | undefined): boolean => degree === "1" || degree === "bass";

/** Grips as rows of numbers, whatever they cost and however they sound: some ninety bytes each. */
export class GripRows {
  private numbers: GripNumbers;
  private readonly supports: Supports[] = [];

  constructor(private room = 1024) {
    this.numbers = numbersFor(room);
  }

  get size(): number {
    return this.supports.length;
  }

  supportsAt(row: number): Supports {
    const supports = this.supports[row];
    if (supports === undefined) throw new RangeError(`there is no grip ${row}`);
    return supports;
  }

  /** The row of one more grip. */
  add(one: Pick<Candidate, "strings" | "fingers" | "midis" | "supports" | "placeMm" | "fingerUses">): number {
    const row = this.supports.length;
    if (row === this.room) this.grow();
    const { numbers } = this;
    const count = one.supports.strings.length;
    this.supports.push(one.supports);
    numbers.placeMm[row] = one.placeMm ?? NO_PLACE;
    numbers.supports[row] = count;
    numbers.isOnRoot[row] = Number(isRootOrBass(one.supports.degrees[0]));
    numbers.top[row] = one.midis.at(-1) ?? 0;
    numbers.stringCount[row] = one.strings.length;
    numbers.isTiring[row] = Number(isTiring(one));
    for (let finger = 0; finger < FINGERS; finger += 1)
      numbers.fingers[row * FINGERS + finger] = one.fingerUses[finger] ?? 0;
    let strings = 0;
    for (let index = 0; index < one.strings.length; index += 1) {
      const { string, fret } = one.strings[index] ?? { string: 0, fret: 0 };
      strings |= 1 << string;
      numbers.frets[row * STRINGS + string - 1] = fret + 1;
      if (index < count) numbers.voices[row * VOICES + index] = one.midis[index] ?? 0;
    }
    numbers.strings[row] = strings;
    const place = count < one.strings.length ? one.strings.at(-1) : undefined;
    numbers.melody[row] =
      place === undefined ? NO_MELODY : noteNumber(place.string, place.fret, one.fingers.at(-1) ?? 0);
    return row;
  }

  /** Copies a grip's numbers to a place among others. */
  copy(row: number, into: GripNumbers, at: number): void {
    const { numbers } = this;
    into.placeMm[at] = numbers.placeMm[row] ?? 0;
    into.supports[at] = numbers.supports[row] ?? 0;
    into.isOnRoot[at] = numbers.isOnRoot[row] ?? 0;
    into.top[at] = numbers.top[row] ?? 0;
    into.strings[at] = numbers.strings[row] ?? 0;
    into.stringCount[at] = numbers.stringCount[row] ?? 0;
    into.isTiring[at] = numbers.isTiring[row] ?? 0;
    into.melody[at] = numbers.melody[row] ?? 0;
    for (let entry = 0; entry < FINGERS; entry += 1)
      into.fingers[at * FINGERS + entry] = numbers.fingers[row * FINGERS + entry] ?? 0;
    for (let entry = 0; entry < VOICES; entry += 1)
      into.voices[at * VOICES + entry] = numbers.voices[row * VOICES + entry] ?? 0;
    for (let entry = 0; entry < STRINGS; entry += 1)
      into.frets[at * STRINGS + entry] = numbers.frets[row * STRINGS + entry] ?? 0;
  }

  private grow(): void {
    const before = this.numbers;
    this.room = Math.max(16, this.room * 2);
    const after = numbersFor(this.room);
    for (const name of Object.keys(after) as (keyof GripNumbers)[]) after[name].set(before[name]);
    this.numbers = after;
  }
}

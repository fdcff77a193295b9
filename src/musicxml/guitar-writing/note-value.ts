import { NOTE_TYPES, type NoteType } from "../timeline/note-types.js";

/** Those that a duration is cut into: longer ones are hardly read, and shorter ones hardly written. */
export const USUAL_NOTE_TYPES = NOTE_TYPES.slice(NOTE_TYPES.indexOf("breve"), NOTE_TYPES.indexOf("256th"));

/** `actual` notes in the time of `normal`. */
export interface TupletRatio {
  readonly actual: number;
  readonly normal: number;
}

/** How a duration is written: type, dots and, inside a tuplet, its ratio. */
export interface NoteValue {
  readonly type: NoteType;
  readonly dots: number;
  readonly ratio: TupletRatio | undefined;
}

const QUARTER = NOTE_TYPES.indexOf("quarter");

/** More dots than two are not read at sight. */
const MOST_DOTS = 2;

export const isNoteType = (text: string): text is NoteType =>
  (NOTE_TYPES as readonly string[]).includes(text);

/** Ticks of a written value; not whole where the tick is too coarse for it. */
export function ticksOf(value: NoteValue, ticksPerQuarter: number): number {
  const halvings = NOTE_TYPES.indexOf(value.type) - QUARTER;
  const dotted = 2 ** (value.dots + 1) - 1;
  const numerator = ticksPerQuarter * dotted * (value.ratio?.normal ?? 1);
  const denominator = 2 ** (halvings + value.dots) * (value.ratio?.actual ?? 1);
  return numerator / denominator;
}

/** The one value that lasts so many ticks, if there is one; the fewest dots that do it. */
export function singleValue(
  ticks: number,
  ticksPerQuarter: number,
  ratio?: TupletRatio,
  mostDots = MOST_DOTS,
): NoteValue | undefined {
  for (let dots = 0; dots <= mostDots; dots++)
    for (const type of NOTE_TYPES) {
      const value: NoteValue = { type, dots, ratio };
      // Both sides times the ratio's `actual`, so that whole numbers are compared, never thirds.
      const written = ticksOf({ type, dots, ratio: undefined }, ticksPerQuarter) * (ratio?.normal ?? 1);
      if (written === ticks * (ratio?.actual ?? 1)) return value;
    }
  return undefined;
}

/** Whether so many ticks are a sum of plain values, with the ratio applied where one is given. */
export function isWritable(ticks: number, ticksPerQuarter: number, ratio?: TupletRatio): boolean {
  const shortestPerQuarter = 2 ** (NOTE_TYPES.length - 1 - QUARTER);
  const denominator = ticksPerQuarter * (ratio?.normal ?? 1);
  return (ticks * (ratio?.actual ?? 1) * shortestPerQuarter) % denominator === 0;
}

/**
 * The tuplet ratio that makes a duration writable which is no sum of plain values: the odd part of its
 * denominator in the time of the largest power of two below it (3:2, 5:4, 7:4, 9:8, 15:8 ...).
 */
export function ratioFor(ticks: number, ticksPerQuarter: number): TupletRatio | undefined {
  if (isWritable(ticks, ticksPerQuarter)) return undefined;
  let odd = ticksPerQuarter / greatestCommonDivisor(ticks, ticksPerQuarter);
  while (odd % 2 === 0) odd /= 2;
  return { actual: odd, normal: 2 ** Math.floor(Math.log2(odd)) };
}

export function greatestCommonDivisor(one: number, other: number): number {
  let [larger, smaller] = [Math.abs(one), Math.abs(other)];
  while (smaller > 0) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}

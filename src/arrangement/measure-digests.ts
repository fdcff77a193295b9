import type { ChordSymbol } from "../song/chord-symbol.js";
import { countBefore, countUntil, lastUntil } from "../song/in-time-order.js";
import { measureIndexAt } from "../song/measure-place.js";
import { pitchClass } from "../song/pitch.js";
import { transposedTune } from "../song/transposition.js";
import type { ChordSpan, Measure, Tune } from "../song/tune.js";
import type { Arrangement } from "./arrangement.js";
import { type PlayedNote, playedGraces, playedNotes } from "./played-notes.js";

/**
 * What a guitar part was made from and what was written, a few letters a measure: enough to tell which
 * measures have been changed since. Everything is taken as it sounds on the guitar.
 */
export interface Digests {
  /** Onset and pitch of the melody notes. */
  readonly melody: string;
  /** Chord symbols, the one in force at the barline included. */
  readonly chords: string;
  /** Every attack, grace notes too, with its string, fret and finger. */
  readonly guitar: string;
  /** Marks that the guitar part was written with, by measure; undefined where there are none. */
  readonly marks?: string | undefined;
}

/** Letters a measure. Two measures that differ have one digest once in 36^4 times. */
const LETTERS = 4;

/** The digests of a tune, as it stands in the lead sheet, and of its arrangement. */
export function digestsOf(tune: Tune, arrangement: Arrangement): Digests {
  const moved = transposedTune(tune, arrangement.transposition);
  return {
    melody: melodyDigest(moved),
    chords: chordDigest(moved),
    guitar: guitarDigest(moved, [...playedNotes(moved, arrangement), ...playedGraces(arrangement)]),
  };
}

export function melodyDigest(tune: Tune): string {
  const notes = grouped(tune.melody, ({ measure }) => measure);
  return digest(tune, ({ index, start }) =>
    (notes.get(index) ?? []).map(({ onset, midi }) => `${quarters(tune, onset - start)}=${midi}`),
  );
}

export const chordDigest = (tune: Tune): string =>
  digest(tune, (measure) => {
    const startOf = ({ start }: ChordSpan) => start;
    const inForce = lastUntil(tune.chords, measure.start, startOf);
    const here = tune.chords.slice(
      countUntil(tune.chords, measure.start, startOf),
      countBefore(tune.chords, measure.start + measure.length, startOf),
    );
    return [...(inForce === undefined ? [] : [inForce]), ...here].map(
      ({ start, symbol }) => `${quarters(tune, Math.max(0, start - measure.start))}=${symbolText(symbol)}`,
    );
  });

/** A note of the guitar as a digest takes it. */
export type Fingered = Pick<PlayedNote, "onset" | "end" | "midi"> & {
  readonly string: number | undefined;
  readonly fret: number | undefined;
  readonly finger: number | undefined;
};

export function guitarDigest(tune: Tune, notes: readonly Fingered[]): string {
  const inMeasures = grouped(notes, ({ onset }) => measureIndexAt(tune, onset));
  return digest(tune, (measure) => guitarContent(tune, measure, inMeasures.get(measure.index) ?? []));
}

/** The digest of one measure of the guitar alone. */
export const guitarDigestOf = (tune: Tune, measure: Measure, notes: readonly Fingered[]): string =>
  shortDigest(guitarContent(tune, measure, notes).join(";"));

const guitarContent = (
  tune: Tune,
  { start, length }: Measure,
  notes: readonly Fingered[],
): readonly string[] =>
  notes
    .filter(({ onset }) => onset >= start && onset < start + length)
    .map(
      ({ onset, end, midi, string, fret, finger }) =>
        `${quarters(tune, onset - start)}-${quarters(tune, end - onset)}=${midi} ${string}/${fret}.${finger}`,
    )
    .sort();

function grouped<Item>(
  items: readonly Item[],
  measureOf: (item: Item) => number,
): ReadonlyMap<number, readonly Item[]> {
  const groups = new Map<number, Item[]>();
  for (const item of items) {
    const group = groups.get(measureOf(item));
    if (group === undefined) groups.set(measureOf(item), [item]);
    else group.push(item);
  }
  return groups;
}

/** What a symbol is, however it is spelled. */
export function symbolText(symbol: ChordSymbol | undefined): string {
  if (symbol === undefined) return "";
  const degrees = symbol.degrees.map(({ type, value, alter }) => `${type} ${value} ${alter}`).sort();
  const bass = symbol.bass === undefined ? "" : pitchClass(symbol.bass);
  return `${pitchClass(symbol.root)} ${symbol.kind} ${degrees.join()}/${bass}`;
}

/**
 * Which measures are as they were when the old digest was made. Where there are as many as then, one by
 * one; where bars were put in or taken out, those that were there before, wherever; of others nothing is known.
 */
export function unchangedMeasures(old: string, now: string): readonly (boolean | undefined)[] {
  const before = inMeasures(old);
  const after = inMeasures(now);
  const isSame = (index: number, from: number) => before[from] !== undefined && before[from] === after[index];
  if (before.length === after.length) return after.map((_, index) => isSame(index, index));
  const known = new Set(before);
  return after.map((measure) => (known.has(measure) ? true : undefined));
}

/** What each measure may have been when the old digest was made, of as many measures as there are now. */
export function digestsThen(old: string, measures: number): (index: number) => readonly string[] {
  const before = inMeasures(old);
  return (index) => (before.length === measures ? before.slice(index, index + 1) : before);
}

/** How many measures a digest was made of. */
export const measuresIn = (digest: string): number => digest.length / LETTERS;

const inMeasures = (text: string): readonly string[] => text.match(new RegExp(`.{${LETTERS}}`, "g")) ?? [];

const digest = (tune: Tune, contentOf: (measure: Measure) => readonly string[]): string =>
  tune.measures.map((measure) => shortDigest(contentOf(measure).join(";"))).join("");

/** A time in quarter notes to a thousandth, whatever the tick. */
const quarters = ({ ticksPerQuarter }: Tune, ticks: number): number =>
  Math.round((ticks / ticksPerQuarter) * 1000);

const UTF8 = new TextEncoder();

/** A few letters for a text: FNV-1a, 32 bits (G. Fowler, L. C. Noll, K.-P. Vo), cut. */
export function shortDigest(content: string): string {
  let hash = 0x811c9dc5;
  const bytes = UTF8.encode(content);
  for (let at = 0; at < bytes.length; at += 1) hash = Math.imul(hash ^ (bytes[at] ?? 0), 0x01000193);
  hash >>>= 0;
  return (hash % 36 ** LETTERS).toString(36).padStart(LETTERS, "0");
}

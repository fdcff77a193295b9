import Fraction from "fraction.js";
import type { Arrangement, SupportNote } from "../../arrangement/arrangement.js";
import { transposePitch } from "../../song/pitch.js";
import type { Measure, MelodyNote, Tune } from "../../song/tune.js";
import type { WrittenNote } from "../lead-sheet/lead-sheet.js";
import { type NoteValue, singleValue, ticksOf } from "./note-value.js";
import { splitDuration } from "./split-duration.js";
import { itemOf, type PartNote, type VoiceItem } from "./voice-item.js";
import { writtenRatio, writtenValue } from "./written-value.js";

/**
 * Voice 1 of a measure: the melody as the lead sheet writes it, with the supporting notes that begin
 * and end with it as its chord. Values the lead sheet does not state, or states wrongly, are derived.
 *
 * @param chords the supporting notes
 */
export function firstVoice(
  tune: Tune,
  arrangement: Arrangement,
  chords: Supports,
  measure: Measure,
  written: readonly WrittenNote[],
): readonly VoiceItem[] {
  const items: VoiceItem[] = [];
  let cursor = measure.start;
  for (const note of written) {
    if (note.onset > cursor) items.push(...restItems(tune, measure, cursor, note.onset - cursor, undefined));
    items.push(...itemsFor(tune, arrangement, chords, measure, note));
    cursor = Math.max(cursor, note.onset + note.length);
  }
  const end = measure.start + measure.length;
  if (cursor < end) items.push(...restItems(tune, measure, cursor, end - cursor, undefined));
  return items;
}

interface Supports {
  /** By the time they begin at. */
  readonly byOnset: ReadonlyMap<number, readonly SupportNote[]>;
  /** Those that stand in voice 2. */
  readonly apart: ReadonlySet<SupportNote>;
  /** Until when melody notes ring that do so as one of them, by index. */
  readonly ringing: ReadonlyMap<number, number>;
}

function itemsFor(
  tune: Tune,
  arrangement: Arrangement,
  chords: Supports,
  measure: Measure,
  note: WrittenNote,
): readonly VoiceItem[] {
  if (note.kind === "grace") return graceItems(arrangement, note);
  if (note.kind === "rest" || note.melodyNote === undefined || note.pitch === undefined)
    return restItems(tune, measure, note.onset, note.length, note);
  return noteItems(tune, arrangement, chords, measure, note);
}

function graceItems({ graces, transposition }: Arrangement, note: WrittenNote): readonly VoiceItem[] {
  if (note.pitch === undefined) return [];
  const pitch = transposePitch(note.pitch, transposition.interval, transposition.semitones);
  const grace = { pitch, placement: graces.get(note.id), tiedFrom: false, tiedOn: false };
  const value = writtenValue(note.element) ?? { type: "eighth", dots: 0, ratio: undefined };
  return [
    itemOf({
      kind: "grace",
      at: note.onset,
      length: 0,
      value,
      notes: [grace],
      source: note,
      isAsWritten: true,
    }),
  ];
}

function restItems(
  tune: Tune,
  measure: Measure,
  at: number,
  length: number,
  source: WrittenNote | undefined,
): readonly VoiceItem[] {
  if (at === measure.start && length === measure.length) {
    const value = singleValue(length, tune.ticksPerQuarter, undefined, 1);
    return [itemOf({ kind: "rest", at, length, value, source, fillsMeasure: true })];
  }
  return piecesOf(tune, measure, at, length, source).map(({ piece, isFirstPiece, isAsWritten }) =>
    itemOf({ kind: "rest", ...piece, source, isFirstPiece, isAsWritten }),
  );
}

function noteItems(
  tune: Tune,
  arrangement: Arrangement,
  chords: Supports,
  measure: Measure,
  note: WrittenNote,
): readonly VoiceItem[] {
  const melody = tune.melody[note.melodyNote ?? -1];
  const placement = arrangement.melody[note.melodyNote ?? -1];
  if (melody === undefined || note.pitch === undefined)
    throw new Error(`written note ${note.id} belongs to no melody note`);
  const { interval, semitones } = arrangement.transposition;
  const pitch = transposePitch(note.pitch, interval, semitones);
  const sounding = [{ pitch, placement }, ...chordUnder(chords, melody.onset, melody.onset + melody.length)];
  const end = melody.onset + melody.length;
  const until = chords.ringing.get(melody.index);
  const ringsBeyond = until === undefined ? undefined : new Fraction(until - end, tune.ticksPerQuarter);
  const keepsTieDrawn = leadsElsewhere(tune, arrangement, chords, melody);
  return piecesOf(tune, measure, note.onset, note.length, note).map(
    ({ piece, isFirstPiece, isAsWritten }) => {
      const tiedFrom = piece.at > melody.onset;
      const tiedOn = piece.at + piece.length < melody.onset + melody.length;
      const notes = sounding.map(
        (one, index): PartNote => ({
          ...one,
          tiedFrom,
          tiedOn,
          ringsBeyond: index === 0 && !tiedOn ? ringsBeyond : undefined,
        }),
      );
      return itemOf({
        kind: "notes",
        ...piece,
        notes,
        source: note,
        isFirstPiece,
        isAsWritten,
        keepsTieDrawn,
      });
    },
  );
}

/**
 * Whether a tie from a note's end may be drawn although it joins nothing: playing jumps there, and nothing of
 * its pitch begins next on the page, which the tie would be read into.
 */
function leadsElsewhere(
  tune: Tune,
  { transposition }: Arrangement,
  chords: Supports,
  melody: MelodyNote,
): boolean {
  const end = melody.onset + melody.length;
  const midi = melody.midi + transposition.semitones;
  return (
    tune.jumps.some(({ from }) => from === end) &&
    !(chords.byOnset.get(end) ?? []).some((support) => support.midi === midi)
  );
}

/** Supporting notes that last exactly as long as the melody note, the highest first. */
const chordUnder = ({ byOnset, apart }: Supports, onset: number, end: number) =>
  (byOnset.get(onset) ?? [])
    .filter((support) => support.end === end && !apart.has(support))
    .sort((one, other) => other.midi - one.midi)
    .map((support) => ({ pitch: support.pitch, placement: support }));

/** A written note as it stands, or cut into values where its own is missing or does not fit its length. */
function piecesOf(tune: Tune, measure: Measure, at: number, length: number, source: WrittenNote | undefined) {
  const stated = writtenValue(source?.element);
  if (stated !== undefined && lasts(stated, length, tune.ticksPerQuarter))
    return [{ piece: { at, length, value: stated }, isFirstPiece: true, isAsWritten: true }];
  const ratio = writtenRatio(source?.element);
  const derived = singleValue(length, tune.ticksPerQuarter, ratio, 2);
  if (derived !== undefined && source?.element !== undefined)
    return [{ piece: { at, length, value: derived }, isFirstPiece: true, isAsWritten: false }];
  return splitDuration(at, length, measure, tune.ticksPerQuarter).map((piece, index) => ({
    piece,
    isFirstPiece: index === 0,
    isAsWritten: false,
  }));
}

const lasts = (value: NoteValue, length: number, ticksPerQuarter: number): boolean =>
  Math.abs(ticksOf(value, ticksPerQuarter) - length) < 1e-6;

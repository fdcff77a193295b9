import Fraction from "fraction.js";
import { type Finding, type Findings, ScoreError } from "../../diagnostics.js";
import { chordName } from "../../harmony/chord-name.js";
import { type ChordFromVoices, chordsFromVoices } from "../../harmony/from-voices/chords-from-voices.js";
import { measurePlace } from "../../song/measure-place.js";
import type { ChordSpan, KeyMark, Measure } from "../../song/tune.js";
import type { Voice } from "../../song/voices.js";
import { beatLength, metricWeight } from "../timeline/meter.js";
import type { Ticks } from "../timeline/ticks.js";
import type { WalkedMeasure, WalkedPart } from "../timeline/walked-part.js";
import type { SungVoice } from "./read-voices.js";

/** The voices of a score in ticks; what is (part of) the tune is marked. */
export const voicesInTicks = (
  sung: readonly SungVoice[],
  isMelody: (element: unknown) => boolean,
  ticks: Ticks,
): readonly Voice[] =>
  sung.map(({ name, notes }, index) => ({
    index,
    name,
    notes: notes.flatMap(({ onset, length, pitch, midi, elements }) => {
      const start = ticks.nearest(onset);
      const note = { onset: start, length: ticks.nearest(onset.add(length)) - start, pitch, midi };
      return note.length > 0 ? [{ ...note, isMelody: elements.some(isMelody) }] : [];
    }),
  }));

/** Under this share of the time with two notes or more, voices make no harmony. */
const LEAST_SHARE_TOGETHER = 0.25;

/** Whether several notes sound together often enough for chords to be heard in them. */
export function soundTogether(voices: readonly Voice[]): boolean {
  const edges = voices.flatMap(({ notes }) =>
    notes.flatMap(({ onset, length }) => [
      { at: onset, by: 1 },
      { at: onset + length, by: -1 },
    ]),
  );
  edges.sort((one, other) => one.at - other.at);
  let sounding = 0;
  let any = 0;
  let several = 0;
  edges.forEach(({ at, by }, index) => {
    sounding += by;
    const lasts = (edges[index + 1]?.at ?? at) - at;
    if (sounding > 0) any += lasts;
    if (sounding > 1) several += lasts;
  });
  return several > 0 && several >= LEAST_SHARE_TOGETHER * any;
}

/** What a second reading may cost more, in points of the reading, to be worth a player's look. */
const NEAR_READING_POINTS = 6;

/**
 * Chord symbols for a score from what its voices sing. Says that they were worked out, and where another
 * reading is nearly as good.
 */
export function harmonyOfVoices(
  voices: readonly Voice[],
  part: WalkedPart,
  keys: readonly KeyMark[],
  measures: readonly Measure[],
  ticks: Ticks,
  findings: Findings,
): readonly ChordSpan[] {
  const measureAt = (tick: number): WalkedMeasure | undefined =>
    part.measures[measures.findLast(({ start }) => start <= tick)?.index ?? 0];
  const chords = chordsFromVoices(voices, keys, {
    weightAt: (tick) => {
      const measure = measureAt(tick);
      if (measure === undefined) return 0;
      const at = new Fraction(tick, ticks.perQuarter).sub(measure.start).add(measure.missing);
      return metricWeight(at, measure.meter);
    },
    beatTicksAt: (tick) => ticks.nearest(beatLength(measureAt(tick)?.meter)),
  });
  findings.add(chordsWorkedOut(chords.length, voices.length, part));
  const placed = { measures, ticksPerQuarter: ticks.perQuarter };
  for (const chord of chords)
    if (chord.other !== undefined && chord.other.extraCost <= NEAR_READING_POINTS)
      findings.add(chordUnclear(chord, chord.other, measurePlace(placed, chord.start) ?? {}));
  const end = ticks.nearest(part.end);
  return chords.map(({ start, symbol }, index) => ({
    index,
    start,
    end: chords[index + 1]?.start ?? end,
    symbol,
    measure: measures.findLast((measure) => measure.start <= start)?.index ?? 0,
  }));
}

const chordsWorkedOut = (chords: number, voices: number, part: WalkedPart): Finding => ({
  rule: "chords-from-voices",
  severity: "note",
  place: {},
  found: `${voices} voices`,
  expected: "chord symbols",
  message: `There are no chord symbols that count; ${chords} chord${chords === 1 ? " was" : "s were"} worked out from what ${voices} voices sound together, in the bars of part ${part.id}.`,
  hint: "Enter chord symbols in your notation program where you hear others.",
});

const chordUnclear = (
  { symbol }: ChordFromVoices,
  other: NonNullable<ChordFromVoices["other"]>,
  place: Finding["place"],
): Finding => ({
  rule: "chord-unclear",
  severity: "note",
  place,
  found: chordName(symbol),
  expected: chordName(other.symbol),
  message: `The chord was read as ${chordName(symbol)}; ${chordName(other.symbol)} is nearly as likely.`,
});

/** @param unread text above the staff that may be chords and could not be read */
export const noChordSymbols = (voices: number, unread: readonly { readonly text: string }[]): ScoreError => {
  const texts = [...new Set(unread.map(({ text }) => `"${text}"`))].slice(0, 8).join(", ");
  const hardly =
    voices > 1 ? ", and its voices hardly sound together, so that no chords can be heard in them" : "";
  return new ScoreError({
    rule: "no-chord-symbols",
    place: {},
    found: [
      "no chord symbols",
      ...(texts === "" ? [] : [`text that may be chords: ${texts}`]),
      ...(voices > 1 ? [`${voices} voices that hardly sound together`] : []),
    ].join(", and "),
    expected:
      "chord symbols, chords as text above the staff, a line of chords among the lyrics, or voices that sound together",
    message: `There are no chords in the score: no chord symbols, and ${texts === "" ? "no text above the staff or among the lyrics" : `no text, not even ${texts},`} that reads as chords${hardly}.`,
    hint: "Enter them as chord symbols in your notation program and export again.",
  });
};

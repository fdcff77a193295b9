import { type Findings, ScoreError } from "../../diagnostics.js";
import type { ArrangeOptions } from "../../options/options.js";
import type { ChordSpan, KeyMark, Measure, MelodyNote, Tune } from "../../song/tune.js";
import {
  attributeOf,
  childText,
  descendantAt,
  elementsOf,
  textOf,
  withAttribute,
  withElements,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { type PlacedHarmony, placeHarmonies, timeIn } from "../chords/chord-spans.js";
import { chordWordsIn, harmonyFromWord } from "../chords/chord-words.js";
import { keyAt, type TimedKey, writtenKeys } from "../chords/keys.js";
import { namesChord } from "../chords/read-harmony.js";
import { unreadableNumbers } from "../numbers/unreadable-numbers.js";
import { type OwnMark, readOwnMark } from "../round-trip/provenance.js";
import { oddBars } from "../timeline/bar-lengths.js";
import type { Quarters } from "../timeline/exact-time.js";
import { beatLength, metricWeight } from "../timeline/meter.js";
import { partsOf, partwiseScore } from "../timeline/partwise.js";
import { jumpAt, jumpsIn } from "../timeline/playing-order.js";
import { tempoOf } from "../timeline/tempo.js";
import { type Ticks, ticksFor } from "../timeline/ticks.js";
import { shiftAt, soundingFifths } from "../timeline/transposition.js";
import { walkPart } from "../timeline/walk-part.js";
import type { WalkedItem, WalkedMeasure, WalkedPart } from "../timeline/walked-part.js";
import { chooseMelody, type MelodyLine } from "./choose-melody.js";
import type { LeadSheet, SourceMeasure, WrittenNote } from "./lead-sheet.js";
import { type LineItem, readMelodyLine, type SungNote } from "./melody-line.js";
import { oneSidedTies } from "./one-sided-ties.js";
import { refuseTooLong } from "./tune-limits.js";

/**
 * Reads the tune of a score: one melody line, its chord symbols, meters, keys, tempos and form. `root` is
 * the root element of the document, partwise or timewise.
 *
 * @throws ScoreError "not-a-score", "no-melody", "melody-part-unknown", "melody-voice-unknown",
 *   "no-chord-symbols", "divisions-missing", "duration-unreadable", "time-too-fine", "bar-too-long", "tune-too-long"
 */
export function readLeadSheet(
  root: XmlElement,
  options: Pick<ArrangeOptions, "melody">,
  findings: Findings,
): LeadSheet {
  const score = partwiseScore(root);
  const mark = readOwnMark(score);
  const parts = partsOf(score, findings).map((part) => walkPart(part, findings));
  const line = chooseMelody(parts, options.melody, mark, findings);
  const { part } = line;
  for (const finding of oddBars(part)) findings.add(finding);
  const { part: harmonyPart, items, wordsTaken } = harmonySource(parts, line, mark);
  for (const read of new Set([part, harmonyPart]))
    for (const finding of unreadableNumbers(read)) findings.add(finding);
  refuseTooLong(part, part.notes.length, items.length);
  const harmonyKeys = writtenKeys(harmonyPart, harmonyPart === part ? line.staff : "1", findings);
  const harmonies = placeHarmonies(items, harmonyPart, part, (at) => keyAt(harmonyKeys, at), findings);
  const { melody, written } = readMelodyLine(line, findings);
  const jumps = jumpsIn(part);
  for (const finding of oneSidedTies(part, written, jumps)) findings.add(finding);
  const driving = harmonies.filter(({ chord }) => chord !== undefined);
  const [firstChord] = driving;
  if (firstChord === undefined) throw noChordSymbols();
  const keys = harmonyPart === part ? harmonyKeys : writtenKeys(part, line.staff, findings);
  const tempos = temposIn(parts, part);
  const ticks = ticksFor(
    [
      ...part.measures.flatMap(({ start, length, meter }) => [start, length, beatLength(meter)]),
      ...written.flatMap(({ at, length }) => [at, length]),
      ...driving.map(({ at }) => at),
      ...keys.map(({ at }) => at),
    ],
    [...tempos, ...harmonies, ...part.attributes, ...part.directions].map(({ at }) => at),
  );

  const startOf = (measure: number) => ticks(part.measures[measure]?.start ?? part.end);
  const tune: Tune = {
    title: titleOf(score),
    ticksPerQuarter: ticks.perQuarter,
    measures: part.measures.map((measure) => tuneMeasure(measure, ticks)),
    melody: melody.map((note, index) => tuneNote(note, index, part, firstChord.at, ticks)),
    chords: chordSpans(driving, part, ticks),
    tempos: tempos.map(({ at, tempo }) => ({ at: ticks(at), quartersPerMinute: tempo.valueOf() })),
    keys: keyMarks(keys, line, ticks),
    jumps: jumps.map((jump) => jumpAt(jump, startOf)),
  };
  return {
    tune,
    source: {
      score,
      melodyPartId: part.id,
      melodyPartName: part.name,
      voice: line.voice,
      staff: line.staff,
      harmonyPartId: harmonyPart.id,
      transpositions: part.shifts
        .filter((shift) => shift.staff === undefined || shift.staff === line.staff)
        .map(({ at, diatonic, chromatic }) => ({ at: ticks(at), diatonic, chromatic })),
      measures: part.measures.map((measure) => sourceMeasure(measure, line, harmonies, wordsTaken, ticks)),
      written: written.map((item, id) => writtenNote(item, id, ticks)),
    },
  };
}

interface HarmonySource {
  readonly part: WalkedPart;
  /** `<harmony>` elements by time. */
  readonly items: readonly WalkedItem[];
  /** Directions that were read as chord symbols. */
  readonly wordsTaken: ReadonlySet<XmlElement>;
}

/** Where the chord symbols are: in the melody's part, else in another, else typed as text. */
function harmonySource(
  parts: readonly WalkedPart[],
  { part }: MelodyLine,
  mark: OwnMark | undefined,
): HarmonySource {
  const own = new Set(mark?.lead === "keep" ? mark.parts : []);
  const inOrder = [part, ...parts.filter((other) => other !== part && !own.has(other.id))];
  const withSymbols = inOrder.find(({ harmonies }) => harmonies.some(({ element }) => namesChord(element)));
  if (withSymbols !== undefined)
    return { part: withSymbols, items: withSymbols.harmonies, wordsTaken: new Set() };
  for (const candidate of inOrder) {
    const words = chordWordsIn(candidate);
    if (words.length > 0)
      return {
        part: candidate,
        items: words.map((word) => ({ ...word, element: harmonyFromWord(word) })),
        wordsTaken: new Set(words.map(({ element }) => element)),
      };
  }
  throw noChordSymbols();
}

const noChordSymbols = () =>
  new ScoreError({
    rule: "no-chord-symbols",
    place: {},
    found: "no chord symbols",
    expected: "chord symbols, as <harmony> or as text above the staff",
    message: "There are no chord symbols in the score.",
    hint: "Enter them as chord symbols in your notation program, not as plain text or lyrics, and export again.",
  });

interface TimedTempo {
  readonly at: Quarters;
  readonly tempo: Quarters;
}

/** Tempo marks of the melody's part; of the first part that has any, where that has none. */
function temposIn(parts: readonly WalkedPart[], melodyPart: WalkedPart): readonly TimedTempo[] {
  for (const part of [melodyPart, ...parts.filter((other) => other !== melodyPart)]) {
    const tempos = part.directions.flatMap(({ at, element }): readonly TimedTempo[] => {
      const tempo = tempoOf(element);
      return tempo === undefined ? [] : [{ at: timeIn(melodyPart, part, at), tempo }];
    });
    if (tempos.length > 0) return tempos.filter((tempo, index) => !tempos[index + 1]?.at.equals(tempo.at));
  }
  return [];
}

const titleOf = (score: XmlElement): string | undefined => {
  const work = descendantAt(score, "work", "work-title");
  return (work && textOf(work).trim()) || childText(score, "movement-title") || undefined;
};

const tuneMeasure = ({ index, label, start, length, meter }: WalkedMeasure, ticks: Ticks): Measure => ({
  index,
  label,
  start: ticks(start),
  length: ticks(length),
  meter,
});

function tuneNote(
  note: SungNote,
  index: number,
  part: WalkedPart,
  firstChord: Quarters,
  ticks: Ticks,
): MelodyNote {
  const measure = part.measures[note.measure];
  return {
    index,
    onset: ticks(note.onset),
    length: ticks(note.length),
    pitch: note.pitch,
    midi: note.midi,
    measure: note.measure,
    isPickup: note.onset.lt(firstChord),
    weight:
      measure === undefined
        ? 0
        : metricWeight(note.onset.sub(measure.start).add(measure.missing), measure.meter),
  };
}

const chordSpans = (
  driving: readonly PlacedHarmony[],
  part: WalkedPart,
  ticks: Ticks,
): readonly ChordSpan[] =>
  driving.map(({ at, measure, chord }, index) => ({
    index,
    start: ticks(at),
    end: ticks(driving[index + 1]?.at ?? part.end),
    symbol: chord === "no-chord" ? undefined : chord,
    measure,
  }));

function keyMarks(keys: readonly TimedKey[], { part, staff }: MelodyLine, ticks: Ticks): readonly KeyMark[] {
  const marks = keys.map(
    ({ at, fifths, mode }): KeyMark => ({
      at: ticks(at),
      fifths: soundingFifths(fifths, shiftAt(part.shifts, staff, at)),
      mode,
    }),
  );
  const inOrder = marks
    .sort((a, b) => a.at - b.at)
    .filter((mark, index, all) => all[index + 1]?.at !== mark.at);
  return inOrder[0]?.at === 0 ? inOrder : [{ at: 0, fifths: 0, mode: undefined }, ...inOrder];
}

function sourceMeasure(
  measure: WalkedMeasure,
  { part, staff }: MelodyLine,
  harmonies: readonly PlacedHarmony[],
  wordsTaken: ReadonlySet<XmlElement>,
  ticks: Ticks,
): SourceMeasure {
  const isHere = (item: WalkedItem) => item.measure === measure.index;
  const timed = ({ at, element }: WalkedItem) => ({ at: ticks.nearest(at), element });
  return {
    element: measure.element,
    attributes: part.attributes.filter(isHere).flatMap(({ at, element }) => {
      const kept = keysAndTimes(element, staff);
      return elementsOf(kept).length === 0 ? [] : [{ at: ticks.nearest(at), element: kept }];
    }),
    harmonies: harmonies
      .filter((harmony) => harmony.measure === measure.index)
      .map(({ at, element, shift, chord }) => ({
        at: ticks.nearest(at),
        element,
        transposition: { diatonic: shift.diatonic, chromatic: shift.chromatic },
        chord,
      })),
    directions: part.directions
      .filter(
        (item) =>
          isHere(item) &&
          !wordsTaken.has(item.element) &&
          (childText(item.element, "staff") || staff) === staff,
      )
      .map(timed),
    barlines: part.barlines
      .filter(isHere)
      .map(({ location, at, element }) => ({ location, at: ticks.nearest(at), element })),
  };
}

function keysAndTimes(attributes: XmlElement, staff: string): XmlElement {
  return withElements(attributes, (child) => {
    if (child.name !== "key" && child.name !== "time") return undefined;
    const number = attributeOf(child, "number");
    return number === undefined || number.trim() === staff
      ? withAttribute(child, "number", undefined)
      : undefined;
  });
}

const writtenNote = (item: LineItem, id: number, ticks: Ticks): WrittenNote => ({
  id,
  kind: item.kind,
  measure: item.measure,
  onset: ticks(item.at),
  length: ticks(item.length),
  melodyNote: item.melodyNote,
  pitch: item.pitch,
  tiedOn: item.tiedOn,
  element: item.element,
});

import type { Findings } from "../../diagnostics.js";
import type { ArrangeOptions } from "../../options/options.js";
import type { KeyMark, MelodyNote, Tune } from "../../song/tune.js";
import {
  attributeOf,
  childText,
  elementsOf,
  withAttribute,
  withElements,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { type PlacedHarmony, placeHarmonies } from "../chords/chord-spans.js";
import { harmonySource, notWritten } from "../chords/harmony-source.js";
import { keyAt, type TimedKey, writtenKeys } from "../chords/keys.js";
import { chordSpans, temposIn, titleOf, tuneMeasure } from "../chords/score-facts.js";
import {
  harmonyOfVoices,
  noChordSymbols,
  soundTogether,
  voicesInTicks,
} from "../ensemble/harmony-of-voices.js";
import { readVoices } from "../ensemble/read-voices.js";
import { type LineInMeasures, wanderingLine } from "../ensemble/wandering-line.js";
import { unreadableNumbers } from "../numbers/unreadable-numbers.js";
import { readOwnMark, standsForEnsemble } from "../round-trip/provenance.js";
import { oddBars } from "../timeline/bar-lengths.js";
import { ZERO } from "../timeline/exact-time.js";
import { beatLength, metricWeight } from "../timeline/meter.js";
import { partwiseScore } from "../timeline/partwise.js";
import { jumpAt, jumpsIn, measuresAsPlayed, stretchesOf } from "../timeline/playing-order.js";
import { type Ticks, ticksFor } from "../timeline/ticks.js";
import { shiftAt, soundingFifths } from "../timeline/transposition.js";
import { byMeasure, type WalkedPart } from "../timeline/walked-part.js";
import { walkedParts } from "../timeline/walked-score.js";
import { chooseMelody } from "./choose-melody.js";

import type { LeadSheet, SourceMeasure, WrittenNote } from "./lead-sheet.js";
import { type LineItem, readMelodyLine, type SungNote } from "./melody-line.js";
import { oneSidedTies } from "./one-sided-ties.js";
import { severalTunes } from "./several-tunes.js";
import type { MelodyLine } from "./sung-line.js";
import { refuseTooLong } from "./tune-limits.js";

/** What reading goes by: where the tune is, and whether chord symbols count (they do where nothing is said). */
export type ReadingOptions = Pick<ArrangeOptions, "melody"> &
  Partial<Pick<ArrangeOptions, "chords" | "chordNames">>;

/**
 * Reads the tune of a score: one melody line, its chord symbols, meters, keys, tempos and form. `root` is
 * the root element of the document, partwise or timewise. Where there are no chord symbols, or none are to
 * count, the chords are those that the voices of the score sound together. `wished`: measures in which the tune
 * is in another part.
 *
 * @throws ScoreError "not-a-score", "no-melody", "melody-part-unknown", "melody-voice-unknown",
 *   "no-chord-symbols", "divisions-missing", "duration-unreadable", "time-too-fine", "bar-too-long", "tune-too-long"
 */
export function readLeadSheet(
  root: XmlElement,
  options: ReadingOptions,
  findings: Findings,
  wished: readonly LineInMeasures[] = [],
): LeadSheet {
  const score = partwiseScore(root);
  const mark = readOwnMark(score);
  const parts = walkedParts(score, findings);
  const found = chooseMelody(parts, options.melody, mark, findings);
  const line = wished.length === 0 ? found : wanderingLine(found, parts, wished);
  const { part } = line;
  for (const finding of [...oddBars(part), ...severalTunes(part)]) findings.add(finding);
  const own = new Set(mark?.lead === "keep" ? mark.parts : []);
  const sung = readVoices(
    parts.filter(({ id }) => !own.has(id)),
    part,
    findings,
  );
  const {
    part: harmonyPart,
    items,
    texts,
    unread,
  } = options.chords === "voices"
    ? notWritten(part, [])
    : harmonySource(parts, part, own, options.chordNames, findings);
  const textsTaken = new Set(texts.map(({ element }) => element));
  for (const read of new Set([part, harmonyPart]))
    for (const finding of unreadableNumbers(read)) findings.add(finding);
  refuseTooLong(part, part.notes.length, items.length);
  const harmonyKeys = writtenKeys(harmonyPart, harmonyPart === part ? line.staff : "1", findings);
  const harmonies = placeHarmonies(items, harmonyPart, part, (at) => keyAt(harmonyKeys, at), findings);
  const { melody, written } = readMelodyLine(line, findings);
  const played = measuresAsPlayed(part);
  const jumps = jumpsIn(played);
  for (const finding of oneSidedTies(part, written, jumps)) findings.add(finding);
  const driving = harmonies.filter(({ chord }) => chord !== undefined);
  const keys = harmonyPart === part ? harmonyKeys : writtenKeys(part, line.staff, findings);
  const tempos = temposIn([part, ...parts.filter((other) => other !== part)], part);
  const ticks = ticksFor(
    [
      ...part.measures.flatMap(({ start, length, meter }) => [start, length, beatLength(meter)]),
      ...written.flatMap(({ at, length }) => [at, length]),
      ...driving.map(({ at }) => at),
      ...keys.map(({ at }) => at),
    ],
    [
      ...[...tempos, ...harmonies, ...part.attributes, ...part.directions].map(({ at }) => at),
      // A single line has no voices under it, and needs no finer time for them.
      ...(sung.length > 1 ? sung : []).flatMap(({ notes }) =>
        notes.flatMap(({ onset, length }) => [onset, onset.add(length)]),
      ),
    ],
  );
  const ofTheTune = new Set<unknown>(written.map(({ element }) => element));
  const isEnsemble = sung.length > 1 || standsForEnsemble(mark);
  // Beside chord symbols a single line is the tune, which is read already.
  const voices =
    isEnsemble || driving.length === 0 ? voicesInTicks(sung, (element) => ofTheTune.has(element), ticks) : [];
  const measures = part.measures.map((measure) => tuneMeasure(measure, ticks));
  const marks = keyMarks(keys, line, ticks);
  if (driving.length === 0 && !soundTogether(voices)) throw noChordSymbols(voices.length, unread);
  const chords =
    driving.length > 0
      ? chordSpans(driving, part, ticks)
      : harmonyOfVoices(voices, part, marks, measures, ticks, findings);
  const firstChord = chords[0]?.start ?? 0;

  const startOf = (measure: number) => ticks(part.measures[measure]?.start ?? part.end);
  const tune: Tune = {
    title: titleOf(score),
    ticksPerQuarter: ticks.perQuarter,
    measures,
    melody: melody.map((note, index) => tuneNote(note, index, part, firstChord, ticks)),
    chords,
    tempos: tempos.map(({ at, tempo }) => ({ at: ticks(at), quartersPerMinute: tempo.valueOf() })),
    keys: marks,
    jumps: jumps.map((jump) => jumpAt(jump, startOf)),
    ...(isInOrder(played, part) ? {} : { playing: stretchesOf(played, startOf) }),
    ...(isEnsemble ? { voices } : {}),
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
      measures: sourceMeasures(line, harmonies, textsTaken, ticks),
      written: written.map((item, id) => writtenNote(item, id, ticks)),
      textsTaken,
    },
  };
}

/** Whether a form is its measures from the first to the last. */
const isInOrder = (played: readonly number[], { measures }: WalkedPart): boolean =>
  played.length === measures.length && played.every((measure, index) => measure === index);

function tuneNote(
  note: SungNote,
  index: number,
  part: WalkedPart,
  firstChord: number,
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
    isPickup: ticks(note.onset) < firstChord,
    ...(note.isDetached ? { isDetached: true as const } : {}),
    weight:
      measure === undefined
        ? 0
        : metricWeight(note.onset.sub(measure.start).add(measure.missing), measure.meter),
  };
}

function keyMarks(keys: readonly TimedKey[], { part, staff }: MelodyLine, ticks: Ticks): readonly KeyMark[] {
  const marked = ({ at, fifths, mode }: TimedKey): KeyMark => ({
    at: ticks(at),
    fifths: soundingFifths(fifths, shiftAt(part.shifts, staff, at)),
    mode,
  });
  const marks = keys.map(marked);
  const inOrder = marks
    .sort((a, b) => a.at - b.at)
    .filter((mark, index, all) => all[index + 1]?.at !== mark.at);
  if (inOrder[0]?.at === 0) return inOrder;
  return [marked({ at: ZERO, ...keyAt([], ZERO) }), ...inOrder];
}

function sourceMeasures(
  { part, staff }: MelodyLine,
  placed: readonly PlacedHarmony[],
  textsTaken: ReadonlySet<XmlElement>,
  ticks: Ticks,
): readonly SourceMeasure[] {
  const attributes = byMeasure(part.attributes);
  const harmonies = byMeasure(placed);
  const directions = byMeasure(part.directions);
  const barlines = byMeasure(part.barlines);
  return part.measures.map(({ element: measure, index }) => ({
    element: measure,
    attributes: (attributes.get(index) ?? []).flatMap(({ at, element }) => {
      const kept = keysAndTimes(element, staff);
      return elementsOf(kept).length === 0 ? [] : [{ at: ticks.nearest(at), element: kept }];
    }),
    harmonies: (harmonies.get(index) ?? []).map(({ at, element, shift, key, chord }) => ({
      at: ticks.nearest(at),
      element,
      transposition: { diatonic: shift.diatonic, chromatic: shift.chromatic },
      key,
      chord,
    })),
    directions: (directions.get(index) ?? [])
      .filter(({ element }) => !textsTaken.has(element))
      .filter(({ element }) => (childText(element, "staff") || staff) === staff)
      .map(({ at, element }) => ({ at: ticks.nearest(at), element })),
    barlines: (barlines.get(index) ?? []).map(({ location, at, element }) => ({
      location,
      at: ticks.nearest(at),
      element,
    })),
  }));
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

import type { Arrangement, SupportNote } from "../../arrangement/arrangement.js";
import { byOnset, melodyRingsUntil, struckSupports } from "../../arrangement/played-notes.js";
import { firstWhere } from "../../song/in-time-order.js";
import type { Measure } from "../../song/tune.js";
import { attributeOf, element, holdsNamed, withElements, type XmlElement } from "../../xml/xml-tree.js";
import type { LeadSheet, SourceMeasure } from "../lead-sheet/lead-sheet.js";
import { byMeasure } from "../timeline/walked-part.js";
import { accidentalsIn, type KeyInForce } from "./accidentals.js";
import { areWhole, type Beams, beamsByBeat, beamsOf } from "./beams.js";
import { copiedElement } from "./copied-element.js";
import { firstVoice } from "./first-voice.js";
import { notationsIn } from "./note-element.js";
import { secondVoice, supportsOfTheirOwn } from "./second-voice.js";
import { tupletGroups } from "./tuplet-groups.js";
import type { PartNote, TupletGroup, VoiceItem } from "./voice-item.js";
import { mainNoteOf } from "./written-value.js";

/** One measure of the guitar part, worked out for all its staves before any of them is written. */
export interface MeasurePlan {
  readonly measure: Measure;
  readonly source: SourceMeasure;
  /** The melody and the chords that last as long as it. */
  readonly first: readonly VoiceItem[];
  /** What sounds under the melody for another time; empty where one voice says it all. */
  readonly second: readonly VoiceItem[];
  readonly accidentals: ReadonlyMap<PartNote, string>;
  readonly beams: ReadonlyMap<VoiceItem, Beams>;
  readonly tuplets: ReadonlyMap<VoiceItem, readonly XmlElement[]>;
  /** The lead sheet's `<note>` that lyrics and ornaments of an item are taken from. */
  readonly leads: ReadonlyMap<VoiceItem, XmlElement>;
}

/** All measures of the guitar part. */
export function planMeasures(
  { tune, source }: LeadSheet,
  arrangement: Arrangement,
  keys: readonly KeyInForce[],
): readonly MeasurePlan[] {
  const written = byMeasure(source.written);
  const own = supportsOfTheirOwn(tune, arrangement);
  const supports = byMeasureSounding(tune.measures, own);
  const chords = {
    byOnset: byOnset(struckSupports(arrangement)),
    apart: new Set(own),
    ringing: melodyRingsUntil(arrangement),
  };
  const hasBeams = source.measures.some(({ element: measure }) => holdsNamed(measure, "beam"));
  return tune.measures.map((measure): MeasurePlan => {
    const sourceMeasure = source.measures[measure.index];
    if (sourceMeasure === undefined) throw new Error(`measure ${measure.index + 1} has no source`);
    const first = firstVoice(tune, arrangement, chords, measure, written.get(measure.index) ?? []);
    const leads = new Map(
      first.flatMap((item) => {
        const note = item.source?.element;
        if (note === undefined) return [];
        const lead = mainNoteOf(note, sourceMeasure.element);
        return [[item, withoutTexts(lead, source.textsTaken)] as const];
      }),
    );
    const groups = tupletGroups(first, tune.ticksPerQuarter);
    const second = secondVoice(tune, measure, supports.get(measure.index) ?? [], groups);
    return {
      measure,
      source: sourceMeasure,
      first,
      second,
      accidentals: accidentalsIn([...first, ...second], keys),
      beams: new Map([
        ...firstBeams(first, leads, measure, tune.ticksPerQuarter, hasBeams),
        ...beamed(second, beamsByBeat(second, measure, tune.ticksPerQuarter)),
      ]),
      tuplets: new Map([...firstTuplets(first, leads, groups), ...second.map(ownTuplets)]),
      leads,
    };
  });
}

/** A line of chords among the lyrics stands above the staff as chord symbols. */
const withoutTexts = (lead: XmlElement, taken: ReadonlySet<XmlElement>): XmlElement =>
  taken.size === 0 ? lead : withElements(lead, (child) => (taken.has(child) ? undefined : child));

/** The notes that sound in each measure, by its index. */
function byMeasureSounding(
  measures: readonly Measure[],
  notes: readonly SupportNote[],
): ReadonlyMap<number, readonly SupportNote[]> {
  const groups = new Map<number, SupportNote[]>();
  for (const note of notes) {
    let index = firstWhere(measures, ({ start, length }) => start + length > note.onset);
    for (; (measures[index]?.start ?? note.end) < note.end; index += 1) {
      const group = groups.get(index);
      if (group === undefined) groups.set(index, [note]);
      else group.push(note);
    }
  }
  return groups;
}

/** The lead sheet's beams where they still fit, else beams by the beat. */
function firstBeams(
  items: readonly VoiceItem[],
  leads: ReadonlyMap<VoiceItem, XmlElement>,
  measure: Measure,
  ticksPerQuarter: number,
  hasBeams: boolean,
): readonly (readonly [VoiceItem, Beams])[] {
  const written = (item: VoiceItem): Beams => {
    const lead = leads.get(item);
    // A rest shows no beam, and a note that could not be read is one: what began or ended there does not.
    return lead === undefined || !item.isAsWritten || item.notes.length === 0 ? [] : beamsOf(lead);
  };
  const timed = items.filter(({ kind }) => kind !== "grace");
  const graces = items.filter(({ kind }) => kind === "grace");
  const graceBeams = graces.map(written);
  const asWritten = timed.map(written);
  const areKept =
    hasBeams && areWhole(asWritten) && timed.every((item) => item.isAsWritten || !isShort(item));
  return [
    ...beamed(timed, areKept ? asWritten : beamsByBeat(timed, measure, ticksPerQuarter)),
    ...beamed(graces, areWhole(graceBeams) ? graceBeams : []),
  ];
}

/** Whether a note needs a flag or a beam. */
const isShort = ({ kind, value }: VoiceItem): boolean =>
  kind === "notes" && value !== undefined && /^(eighth|\d)/.test(value.type);

const beamed = (items: readonly VoiceItem[], beams: readonly Beams[]) =>
  items.map((item, index) => [item, beams[index] ?? []] as const);

/** The lead sheet's tuplet marks where each that starts also stops, else marks of ours, hidden where it shows none. */
function firstTuplets(
  items: readonly VoiceItem[],
  leads: ReadonlyMap<VoiceItem, XmlElement>,
  groups: readonly TupletGroup[],
): readonly (readonly [VoiceItem, readonly XmlElement[]])[] {
  const written = items.map((item): readonly XmlElement[] => {
    const lead = leads.get(item);
    if (lead === undefined || !item.isAsWritten) return [];
    return notationsIn(lead)
      .filter(({ name }) => name === "tuplet")
      .map(copiedElement);
  });
  const types = written.flat().map((tuplet) => attributeOf(tuplet, "type"));
  const starts = types.filter((type) => type === "start").length;
  const isComplete = items.every((item) => item.value?.ratio === undefined || item.isAsWritten);
  if (isComplete && starts > 0 && starts * 2 === types.length)
    return items.map((item, index) => [item, written[index] ?? []] as const);
  return items
    .filter(({ kind }) => kind !== "grace")
    .map((item) => {
      const marks = [
        ...(groups.some(({ start }) => start === item.at) ? (["start"] as const) : []),
        ...(groups.some(({ end }) => end === item.at + item.length) ? (["stop"] as const) : []),
      ];
      return [item, tupletMarks(marks, isComplete)] as const;
    });
}

/** In voice 2 the number of the tuplet is not repeated: voice 1 shows it. */
const ownTuplets = (item: VoiceItem) => [item, tupletMarks(item.tuplet, true)] as const;

const tupletMarks = (types: readonly ("start" | "stop")[], isHidden: boolean): readonly XmlElement[] =>
  types.map((type) =>
    element("tuplet", {
      type,
      number: 1,
      bracket: isHidden ? "no" : undefined,
      "show-number": isHidden && type === "start" ? "none" : undefined,
    }),
  );

import type { Arrangement } from "../../arrangement/arrangement.js";
import { digestsOf } from "../../arrangement/measure-digests.js";
import { pluckingToldAt } from "../../arrangement/plucked-strings.js";
import { notDefault } from "../../options/levels.js";
import type { ArrangeOptions } from "../../options/options.js";
import type { Tune } from "../../song/tune.js";
import { indentationOf, withAppended, withoutChildren } from "../../xml/indentation.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  type XmlDocument,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { leadMove } from "../lead-moving/lead-key.js";
import { movedLead } from "../lead-moving/moved-lead.js";
import type { LeadSheet } from "../lead-sheet/lead-sheet.js";
import { withMarkOf } from "../round-trip/mark-score.js";
import { withoutOwnParts } from "../round-trip/own-parts.js";
import { readOwnMark, withoutLeadOptions } from "../round-trip/provenance.js";
import { partwiseProlog } from "../timeline/partwise.js";
import { withChordsInLead } from "./chords-in-lead.js";
import { movedKeys } from "./key-and-time.js";
import { type MeasurePlan, planMeasures } from "./measure-plan.js";
import { greatestCommonDivisor } from "./note-value.js";
import { type GuitarMusic, partElement } from "./part-element.js";
import { grouped, scorePartElements } from "./score-part-element.js";
import { shownFingers } from "./shown-fingers.js";
import { shownOnce } from "./shown-once.js";
import { PARTS_OF_LAYOUT } from "./staff-style.js";

/** The guitar's parts, and what the score is to remember of their marks. */
export interface MarkedParts {
  readonly parts: readonly XmlElement[];
  readonly record: string | undefined;
}

/**
 * The document with the guitar's part in it. Everything that came in stays as it was: new entries come
 * at the end of the part list, new parts after the last one. Parts that an earlier run wrote are
 * replaced, so that writing twice gives what writing once gives.
 *
 * The version that the document states is left alone: nothing is added that MusicXML 2.0 does not have, but
 * ids of notes (3.1) and notations that are not printed (3.0).
 *
 * @param markedParts puts on the guitar's parts what a player added to them, and says which marks they had before
 */
export function writeGuitarPart(
  document: XmlDocument,
  sheet: LeadSheet,
  arrangement: Arrangement,
  options: ArrangeOptions,
  markedParts: (parts: readonly XmlElement[]) => MarkedParts = (parts) => ({ parts, record: undefined }),
): XmlDocument {
  const mark = readOwnMark(sheet.source.score);
  const isLeadOurs = mark?.parts.includes(sheet.source.melodyPartId) ?? false;
  // Where the lead sheet was dropped before, there is nothing left of it to keep: what else is there came later.
  const lead = isLeadOurs ? "drop" : options.lead;
  const indentation = indentationOf(document.root);
  const apart = withoutOwnParts(sheet.source.score, mark);
  const others = options.leadChords ? withChordsInLead(apart, sheet) : apart;
  const { transposition } = arrangement;
  const isMoving = leadMove(sheet, transposition, options)?.kind === "moves";
  const kept = isMoving ? movedLead(others, transposition) : others;
  const base = lead === "keep" || isLeadOurs ? kept : withoutParts(others);
  const parts = PARTS_OF_LAYOUT[options.staves];
  const ids = freePartIds(base, parts.length);
  const music = guitarMusic(sheet, arrangement, options, isLeadOurs, lead === "drop");
  const partList = childNamed(base, "part-list");
  if (partList === undefined) throw new Error("a score without part list was read");
  const entries = grouped(scorePartElements(ids, parts, partList), freeGroupNumber(partList));
  const listed = withAppended(partList, entries, indentation, 1);
  const written = parts.map((part, index) => partElement(ids[index] ?? "", part, music));
  const marked = markedParts(written);
  const signed = withMarkOf(
    { ...base, children: base.children.map((child) => (child === partList ? listed : child)) },
    { parts: ids, lead, options: optionsOnRecord(options, lead) },
    { ...digestsOf(sheet.tune, arrangement), marks: marked.record },
    indentation,
  );
  return {
    ...document,
    prolog: partwiseProlog(document),
    root: withAppended(signed, marked.parts, indentation, 0),
  };
}

function guitarMusic(
  sheet: LeadSheet,
  arrangement: Arrangement,
  options: ArrangeOptions,
  isLeadOurs: boolean,
  isAlone: boolean,
): GuitarMusic {
  const keys = movedKeys(sheet, arrangement.transposition.interval);
  const plans = planMeasures(sheet, arrangement, keys);
  return {
    sheet,
    arrangement,
    options,
    plans,
    keys,
    shown: shownOnce(sheet, arrangement, { hasDiagrams: options.diagrams, isLeadOurs, isAlone }),
    shownFingers: shownFingers(sheet.tune, arrangement),
    plucked: options.rightHand === "fingers" ? pluckingToldAt(sheet.tune, arrangement) : new Map(),
    ticksPerDivision: coarsestTick(sheet.tune, plans),
    isAlone,
  };
}

/** The coarsest tick in which every time of the guitar part is whole. */
function coarsestTick({ chords, ticksPerQuarter }: Tune, plans: readonly MeasurePlan[]): number {
  let coarsest = ticksPerQuarter;
  const take = (time: number) => {
    if (time % coarsest !== 0) coarsest = greatestCommonDivisor(coarsest, time);
  };
  for (const { measure, first, second, source } of plans) {
    take(measure.length);
    for (const items of [first, second])
      for (const { at, length } of items) {
        take(at - measure.start);
        take(length);
      }
    for (const around of [source.directions, source.harmonies])
      for (const { at } of around) take(at - measure.start);
  }
  for (const { start } of chords) take(start);
  return coarsest;
}

function withoutParts(score: XmlElement): XmlElement {
  const partList = childNamed(score, "part-list");
  const rest = withoutChildren(score, ({ name }) => name === "part");
  const empty = partList && withoutChildren(partList, () => true);
  return {
    ...rest,
    children: rest.children.map((child) => (child === partList && empty !== undefined ? empty : child)),
  };
}

/** "P1", "P2" ...: the lowest numbers that no id of the document has, nor one that their notes would get. */
function freePartIds(score: XmlElement, count: number): readonly string[] {
  const taken = new Set<string>();
  collectIds(score, taken);
  const hasNotes = new Set([...taken].flatMap((id) => /^(P\d+)m\d/.exec(id)?.[1] ?? []));
  const ids: string[] = [];
  for (let number = 1; ids.length < count; number++)
    if (!taken.has(`P${number}`) && !taken.has(`P${number}-I1`) && !hasNotes.has(`P${number}`))
      ids.push(`P${number}`);
  return ids;
}

function collectIds(element: XmlElement, ids: Set<string>): void {
  if (element.attributes.size > 0) {
    const id = attributeOf(element, "id");
    if (id !== undefined) ids.add(id.trim());
  }
  for (const child of element.children) if (child.kind === "element") collectIds(child, ids);
}

function freeGroupNumber(partList: XmlElement): number {
  const taken = childrenNamed(partList, "part-group").map((group) => attributeOf(group, "number") ?? "1");
  let number = 1;
  while (taken.includes(String(number))) number++;
  return number;
}

/** What is done with edits is asked each time; which tune and chords were read is no matter where their score is gone. */
function optionsOnRecord(
  options: ArrangeOptions,
  lead: ArrangeOptions["lead"],
): Readonly<Record<string, unknown>> {
  const { edits: _edits, ...recorded } = notDefault(options);
  return lead === "keep" ? recorded : withoutLeadOptions(recorded);
}

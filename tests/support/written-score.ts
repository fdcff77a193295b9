import { Findings } from "../../src/diagnostics.js";
import { writeGuitarPart } from "../../src/musicxml/guitar-writing/write-guitar-part.js";
import type { LeadSheet } from "../../src/musicxml/lead-sheet/lead-sheet.js";
import { readLeadSheet } from "../../src/musicxml/lead-sheet/read-lead-sheet.js";
import { instrumentFrom } from "../../src/options/instrument-from-options.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { printXml } from "../../src/xml/print-xml.js";
import { attributeOf, childrenNamed, type XmlElement } from "../../src/xml/xml-tree.js";
import { leadSheetFromText } from "./lead-sheet-from-text.js";
import { type PlainWishes, plainArrangement } from "./plain-arrangement.js";

export interface WrittenScore {
  readonly lead: string;
  readonly text: string;
  readonly root: XmlElement;
  readonly sheet: LeadSheet;
  /** The guitar's parts: those that the lead sheet does not have. */
  readonly parts: readonly XmlElement[];
}

/** A tune with its guitar written into it, from MusicXML. */
export function writtenScore(lead: string, wishes: PlainWishes = {}, options: object = {}): WrittenScore {
  const document = parseXml(lead);
  const sheet = readLeadSheet(document.root, { melody: "auto", chordNames: "auto" }, new Findings());
  const complete = completeOptions(options);
  const arrangement = plainArrangement(sheet, wishes, instrumentFrom(complete));
  const text = printXml(writeGuitarPart(document, sheet, arrangement, complete));
  const { root } = parseXml(text);
  const parts = childrenNamed(root, "part");
  const isDropped = (options as { readonly lead?: string }).lead === "drop";
  return {
    lead,
    text,
    root,
    sheet,
    parts: isDropped ? parts : parts.slice(childrenNamed(sheet.source.score, "part").length),
  };
}

/** The same from a short text, see `leadSheetFromText`; 4/4 in C where the text says nothing else. */
export const writtenTune = (body: string, wishes: PlainWishes = {}, options: object = {}): WrittenScore =>
  writtenScore(leadSheetFromText(body.includes("\n\n") ? body : `title: Try\n\n${body}`), wishes, options);

/** The notation part, or the only one. */
export function firstPart({ parts }: WrittenScore): XmlElement {
  const [first] = parts;
  if (first === undefined) throw new Error("no guitar part was written");
  return first;
}

export function tabPart({ parts }: WrittenScore): XmlElement {
  const last = parts.at(-1);
  if (last === undefined) throw new Error("no guitar part was written");
  return last;
}

export const partIds = (root: XmlElement): readonly string[] =>
  childrenNamed(root, "part").map((part) => attributeOf(part, "id") ?? "");

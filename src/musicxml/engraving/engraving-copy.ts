import {
  attributeOf,
  childNamed,
  childText,
  elementsOf,
  everyNamed,
  withAttribute,
  withElements,
  withoutChildrenNamed,
  type XmlDocument,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { readOwnMark } from "../round-trip/provenance.js";
import { withSymbolsApart } from "./symbols-apart.js";
import { withWholeGroups } from "./whole-groups.js";

/** Which of a score's parts are to be seen. */
export type ShownParts = "lead" | "guitar" | "both";

/** A note of the copy, by the id it carries there. */
export interface EngravedNote {
  readonly id: string;
  readonly staff: "lead" | "guitar" | "tab";
  /** Position in the part, from 1. */
  readonly measure: number;
  /** Quarter notes from the start of the measure. */
  readonly onset: number;
  /** Whether a tie leads into it, so that nothing is struck. */
  readonly isTiedFrom: boolean;
  /** Left-hand finger that the notation states, 1 to 4. */
  readonly finger?: number;
}

export interface EngravingCopy {
  readonly document: XmlDocument;
  readonly notes: readonly EngravedNote[];
}

/**
 * A copy of a score for an engraver, and where its notes stand: every note has an id, and the fingers are
 * taken out, since whoever draws the picture sets them beside the heads. Beside the lead sheet the guitar
 * part is without what stands there already: words, tempo, and chord symbols where it is in the same key; those that
 * stand on one beat in the lead sheet stand where the guitar plays them.
 */
export function engravingCopy(document: XmlDocument, shown: ShownParts): EngravingCopy {
  const own = readOwnMark(document.root)?.parts ?? [];
  const isGuitar = (part: XmlElement) => own.includes((attributeOf(part, "id") ?? "").trim());
  const isShown = (part: XmlElement) =>
    own.length === 0 || shown === "both" || (shown === "guitar") === isGuitar(part);
  const isRepeated =
    shown === "both" && own.length > 0 && partsOf(document.root).some((part) => !isGuitar(part));
  const [lead, guitarPart] = [false, true].map((isOurs) =>
    partsOf(document.root).find((part) => isGuitar(part) === isOurs),
  );
  const isMoved = firstRoot(lead) !== firstRoot(guitarPart);
  const shownApart = (part: XmlElement) =>
    part === lead && guitarPart !== undefined ? withSymbolsApart(part, guitarPart) : part;
  const notes: EngravedNote[] = [];
  const root = withElements(document.root, (child) => {
    if (child.name === "part-list")
      return withWholeGroups(
        withElements(child, (entry) => (entry.name === "score-part" && !isShown(entry) ? undefined : entry)),
      );
    if (child.name !== "part") return child;
    if (!isShown(child)) return undefined;
    const guitar = isGuitar(child);
    const part = guitar && isRepeated ? withoutWhatTheLeadSays(child, isMoved) : shownApart(child);
    return withIds(part, guitar ? (hasTab(child) ? "tab" : "guitar") : "lead", notes);
  });
  return { document: { ...document, root }, notes };
}

const partsOf = (root: XmlElement): readonly XmlElement[] =>
  elementsOf(root).filter(({ name }) => name === "part");

function hasTab(part: XmlElement): boolean {
  for (const clef of everyNamed(part, "clef")) if (childText(clef, "sign") === "TAB") return true;
  return false;
}

/** The first chord symbol's root, "B-1"; undefined where there is none. */
function firstRoot(part: XmlElement | undefined): string | undefined {
  if (part === undefined) return undefined;
  for (const root of everyNamed(part, "root"))
    return `${childText(root, "root-step")}${Number(childText(root, "root-alter") ?? 0)}`;
  return undefined;
}

function withoutWhatTheLeadSays(part: XmlElement, isMoved: boolean): XmlElement {
  return withElements(part, (measure) =>
    withElements(measure, (item) => {
      if (item.name === "note") return withoutChildrenNamed(item, "lyric");
      if (item.name === "harmony") return isMoved ? item : undefined;
      return item.name === "direction" && childNamed(item, "sound") !== undefined ? undefined : item;
    }),
  );
}

/** Ids on the notes of a part, fingers out of them. Cursor in quarter notes, as durations lay it out. */
function withIds(part: XmlElement, staff: EngravedNote["staff"], notes: EngravedNote[]): XmlElement {
  let divisions = 1;
  let measureNumber = 0;
  return withElements(part, (measure) => {
    if (measure.name !== "measure") return measure;
    measureNumber += 1;
    let cursor = 0;
    let onset = 0;
    return withElements(measure, (item) => {
      const quarters = (Number(childText(item, "duration")) || 0) / divisions;
      if (item.name === "attributes") divisions = Number(childText(item, "divisions")) || divisions;
      else if (item.name === "backup") cursor -= quarters;
      else if (item.name === "forward") cursor += quarters;
      if (item.name !== "note") return item;
      if (childNamed(item, "chord") === undefined) {
        onset = cursor;
        cursor += quarters;
      }
      if (childNamed(item, "rest") !== undefined) return item;
      const id = `n${notes.length}`;
      const finger = fingerOf(item);
      notes.push({
        id,
        staff,
        measure: measureNumber,
        onset,
        isTiedFrom: elementsOf(item).some(
          ({ name, attributes }) => name === "tie" && attributes.get("type") === "stop",
        ),
        ...(finger === undefined ? {} : { finger }),
      });
      return withAttribute(withoutFingers(item), "id", id);
    });
  });
}

function fingerOf(note: XmlElement): number | undefined {
  for (const fingering of everyNamed(note, "fingering")) {
    const finger = Number(
      fingering.children.map((child) => (child.kind === "text" ? child.raw : "")).join(""),
    );
    if (finger >= 1 && finger <= 4) return finger;
  }
  return undefined;
}

/** Without fingers, and without the wrapping that holds nothing else. */
function withoutFingers(note: XmlElement): XmlElement {
  const kept = (child: XmlElement) => (elementsOf(child).length === 0 ? undefined : child);
  return withElements(note, (notations) =>
    notations.name !== "notations"
      ? notations
      : kept(
          withElements(notations, (technical) =>
            technical.name === "technical" ? kept(withoutChildrenNamed(technical, "fingering")) : technical,
          ),
        ),
  );
}

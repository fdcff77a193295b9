import { childrenNamed, elementsOf, withElements, type XmlElement } from "../../xml/xml-tree.js";
import type { LeadSheet } from "../lead-sheet/lead-sheet.js";

/**
 * A lead sheet without some of the signs on its notes and staves, for the writer to copy from: where the guitar part
 * that came is itself the lead sheet, the player's marks are hung on the new one and not copied.
 */
export function withoutSigns(sheet: LeadSheet, signs: ReadonlySet<XmlElement>): LeadSheet {
  if (signs.size === 0) return sheet;
  const changed = new Map<XmlElement, XmlElement | undefined>();
  const now = (one: XmlElement): XmlElement => changed.get(one) ?? one;
  const stripped = (child: XmlElement): XmlElement => {
    const rest = withoutThem(child, signs);
    if (rest !== child) changed.set(child, rest);
    return rest;
  };
  const measures = sheet.source.measures.map((measure) => {
    const element = withElements(measure.element, stripped);
    const directions = measure.directions.map(({ at, element: one }) => ({ at, element: now(one) }));
    return { ...measure, element, directions };
  });
  const written = sheet.source.written.map((note) =>
    note.element === undefined ? note : { ...note, element: now(note.element) },
  );
  return { ...sheet, source: { ...sheet.source, measures, written } };
}

/** A note or direction without them; the same one where it has none. */
function withoutThem(child: XmlElement, signs: ReadonlySet<XmlElement>): XmlElement {
  if (child.name !== "note" && child.name !== "direction") return child;
  const holders = child.name === "note" ? childrenNamed(child, "notations") : [];
  const isConcerned = [child, ...holders, ...holders.flatMap(elementsOf)].some((holder) =>
    elementsOf(holder).some((one) => signs.has(one)),
  );
  return isConcerned ? without(child, signs) : child;
}

/** What held nothing but signs goes with them. */
const without = (parent: XmlElement, signs: ReadonlySet<XmlElement>): XmlElement =>
  withElements(parent, (child) => {
    if (signs.has(child)) return undefined;
    const rest = without(child, signs);
    return elementsOf(child).length > 0 && elementsOf(rest).length === 0 ? undefined : rest;
  });

import { attributeOf, elementsOf, withElements, type XmlElement } from "../../xml/xml-tree.js";

/**
 * A part list without groups that are not whole: begun and never ended, ended and never begun, or around one part
 * alone. An engraver would draw the brace of each beside that part.
 */
export function withWholeGroups(partList: XmlElement): XmlElement {
  const entries = elementsOf(partList);
  const whole = new Set<XmlElement>();
  const open = new Map<string, number>();
  entries.forEach((entry, index) => {
    if (entry.name !== "part-group") return;
    const number = attributeOf(entry, "number")?.trim() ?? "1";
    if (attributeOf(entry, "type")?.trim() === "start") {
      open.set(number, index);
      return;
    }
    const start = open.get(number);
    open.delete(number);
    const begin = start === undefined ? undefined : entries[start];
    const inside = entries.slice(start, index).filter(({ name }) => name === "score-part");
    if (begin !== undefined && inside.length > 1) whole.add(begin).add(entry);
  });
  return withElements(partList, (entry) =>
    entry.name === "part-group" && !whole.has(entry) ? undefined : entry,
  );
}

import { withoutChildren } from "../../xml/indentation.js";
import { attributeOf, childNamed, elementsOf, type XmlElement } from "../../xml/xml-tree.js";
import type { OwnMark } from "./provenance.js";

/** The score without the parts that an earlier run wrote: part list entries, their bracket, parts. */
export function withoutOwnParts(score: XmlElement, mark: OwnMark | undefined): XmlElement {
  if (mark === undefined) return score;
  const isOwn = (one: XmlElement, name: string) =>
    one.name === name && mark.parts.includes((attributeOf(one, "id") ?? "").trim());
  const rest = withoutChildren(score, (child) => isOwn(child, "part"));
  const partList = childNamed(rest, "part-list");
  if (partList === undefined) return rest;
  const entries = elementsOf(partList);
  const own = entries.filter((entry) => isOwn(entry, "score-part"));
  const bracket = bracketAround(entries, own);
  const listed = withoutChildren(partList, (entry) => own.includes(entry) || bracket.includes(entry));
  return { ...rest, children: rest.children.map((child) => (child === partList ? listed : child)) };
}

/** The group that begins right before the first of the entries and ends right after the last. */
function bracketAround(entries: readonly XmlElement[], own: readonly XmlElement[]): readonly XmlElement[] {
  const places = own.map((entry) => entries.indexOf(entry));
  const before = entries[Math.min(...places) - 1];
  const after = entries[Math.max(...places) + 1];
  if (before?.name !== "part-group" || after?.name !== "part-group") return [];
  const isPair =
    attributeOf(before, "type") === "start" &&
    attributeOf(after, "type") === "stop" &&
    attributeOf(before, "number") === attributeOf(after, "number");
  return isPair ? [before, after] : [];
}

import { hasElements, withChildren, withElements, type XmlElement } from "../../xml/xml-tree.js";

/**
 * Attributes that hold only where an element first stood: ids are unique in a document, positions
 * belong to another staff, and the last two count in the divisions of another part.
 */
const LEFT_BEHIND = ["id", "default-x", "default-y", "relative-x", "relative-y", "divisions", "make-time"];

/**
 * A copy fit for another part: as it stands, without ids, positions and the blanks around its children. Text that
 * strayed between them stays, its own blanks do not: the new place lays it out like a child.
 */
export function copiedElement(source: XmlElement): XmlElement {
  const attributes =
    source.attributes.size === 0
      ? source.attributes
      : new Map([...source.attributes].filter(([name]) => !LEFT_BEHIND.includes(name)));
  const children = hasElements(source) ? withoutBlanks(source).children : source.children;
  return withElements(withChildren({ ...source, attributes }, children), copiedElement);
}

const withoutBlanks = (source: XmlElement): XmlElement =>
  withChildren(
    source,
    source.children
      .map((child) => (child.kind === "text" ? { ...child, raw: child.raw.trim() } : child))
      .filter((child) => child.kind !== "text" || child.raw !== ""),
  );

import { elementsOf, withChildren, type XmlElement, type XmlNode } from "./xml-tree.js";

/** How a file is laid out: what one level is indented by; undefined where it has no line breaks. */
export type Indentation = string | undefined;

/** The indentation of a document's own first child. */
export function indentationOf(root: XmlElement): Indentation {
  const [first] = root.children;
  if (first?.kind !== "text" || !/^\s*\n\s*$/.test(first.raw)) return undefined;
  return first.raw.slice(first.raw.lastIndexOf("\n") + 1);
}

const lineBreak = (indentation: string, depth: number): XmlNode => ({
  kind: "text",
  raw: `\n${indentation.repeat(depth)}`,
});

/** A new element with its children on lines of their own; elements that hold text stay on one line. */
export function indented(element: XmlElement, indentation: Indentation, depth: number): XmlElement {
  if (indentation === undefined || elementsOf(element).length === 0) return element;
  const children = element.children.flatMap((child) => [
    lineBreak(indentation, depth + 1),
    child.kind === "element" ? indented(child, indentation, depth + 1) : child,
  ]);
  return withChildren(element, [...children, lineBreak(indentation, depth)]);
}

/** With new children after the ones there are, each on a line of its own where the file has lines. */
export function withAppended(
  parent: XmlElement,
  added: readonly XmlElement[],
  indentation: Indentation,
  depth: number,
): XmlElement {
  const lines = added.flatMap((child) => onOwnLine(child, indentation, depth + 1));
  const last = parent.children.at(-1);
  if (last?.kind === "text" && last.raw.trim() === "")
    return withChildren(parent, [...parent.children.slice(0, -1), ...lines, last]);
  const close = indentation === undefined || added.length === 0 ? [] : [lineBreak(indentation, depth)];
  return withChildren(parent, [...parent.children, ...lines, ...close]);
}

/** With new children right before one of those there are. */
export function withInserted(
  parent: XmlElement,
  before: XmlElement,
  added: readonly XmlElement[],
  indentation: Indentation,
  depth: number,
): XmlElement {
  const index = parent.children.indexOf(before);
  const at = index > 0 && isBlank(parent.children[index - 1]) ? index - 1 : index;
  const lines = added.flatMap((child) => onOwnLine(child, indentation, depth + 1));
  return withChildren(parent, [...parent.children.slice(0, at), ...lines, ...parent.children.slice(at)]);
}

/** Without some of its children, and without the line break before each. */
export function withoutChildren(parent: XmlElement, isLeaving: (child: XmlElement) => boolean): XmlElement {
  const kept: XmlNode[] = [];
  for (const child of parent.children) {
    if (child.kind !== "element" || !isLeaving(child)) {
      kept.push(child);
      continue;
    }
    if (isBlank(kept.at(-1))) kept.pop();
  }
  return withChildren(parent, kept);
}

const onOwnLine = (child: XmlElement, indentation: Indentation, depth: number): readonly XmlNode[] => [
  ...(indentation === undefined ? [] : [lineBreak(indentation, depth)]),
  indented(child, indentation, depth),
];

const isBlank = (node: XmlNode | undefined): boolean => node?.kind === "text" && node.raw.trim() === "";

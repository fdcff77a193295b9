import { withChildren, type XmlElement, type XmlNode } from "./xml-tree.js";

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

/** A new element, to be printed with its children on lines of their own where the file has lines. */
export function indented(element: XmlElement, indentation: Indentation, depth: number): XmlElement {
  if (indentation === undefined) return element;
  const { kind, name, attributes, children } = element;
  // Named one by one: a copy that is spread is of another shape each time, and printing it is slow.
  return { kind, name, attributes, children, layout: { indentation, depth } };
}

/** With new children after the ones there are, each on a line of its own where the file has lines. */
export function withAppended(
  parent: XmlElement,
  added: readonly XmlElement[],
  indentation: Indentation,
  depth: number,
): XmlElement {
  const lines = added.flatMap((child) => onOwnLine(child, indentation, depth + 1));
  const [before, blank] = withBlankEndApart(parent.children);
  if (blank !== undefined) return withChildren(parent, [...before, ...lines, blank]);
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
  const [earlier, blank] = withBlankEndApart(parent.children.slice(0, index));
  const lines = added.flatMap((child) => onOwnLine(child, indentation, depth + 1));
  const lineBreakBefore = blank === undefined ? [] : [blank];
  return withChildren(parent, [...earlier, ...lines, ...lineBreakBefore, ...parent.children.slice(index)]);
}

/** Without some of its children, and without the line break before each. */
export function withoutChildren(parent: XmlElement, isLeaving: (child: XmlElement) => boolean): XmlElement {
  const kept: XmlNode[] = [];
  for (const child of parent.children) {
    if (child.kind !== "element" || !isLeaving(child)) kept.push(child);
    else kept.splice(-1, 1, ...withBlankEndApart(kept.slice(-1))[0]);
  }
  return withChildren(parent, kept);
}

const onOwnLine = (child: XmlElement, indentation: Indentation, depth: number): readonly XmlNode[] => [
  ...(indentation === undefined ? [] : [lineBreak(indentation, depth)]),
  indented(child, indentation, depth),
];

/** Nodes without the blanks they end in, and those: a line break is one, whether or not stray text stands before it. */
function withBlankEndApart(nodes: readonly XmlNode[]): readonly [readonly XmlNode[], XmlNode | undefined] {
  const last = nodes.at(-1);
  if (last?.kind !== "text") return [nodes, undefined];
  const raw = last.raw.trimEnd();
  if (raw === last.raw) return [nodes, undefined];
  const before = nodes.slice(0, -1);
  return [
    raw === "" ? before : [...before, { kind: "text", raw }],
    { kind: "text", raw: last.raw.slice(raw.length) },
  ];
}

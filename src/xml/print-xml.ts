import { hasElements, type Layout, type XmlDocument, type XmlElement, type XmlNode } from "./xml-tree.js";

/** The document as text. What was not changed comes out as it came in, except quotes and `<a></a>`. */
export const printXml = (document: XmlDocument): string =>
  document.prolog + printNode(document.root) + document.epilog;

/** The same as UTF-8. */
export const printedBytes = (document: XmlDocument): Uint8Array<ArrayBuffer> =>
  new TextEncoder().encode(printXml(document));

/** One node as text. An element without children is written `<a/>`. */
export const printNode = (node: XmlNode): string => inPieces(node, DEPTH_OF_A_MEASURE);

/** A measure stands in a part, a part in the score. */
const DEPTH_OF_A_MEASURE = 2;

/** Measure by measure, joined in the end: within a measure one text that grows is quickest. */
function inPieces(node: XmlNode, depth: number, outer?: LineBreaks): string {
  if (depth === 0 || node.kind !== "element" || node.children.length === 0)
    return inOnePiece(withNode("", node, outer));
  const lines = linesIn(node, outer);
  const before = lines?.within() ?? "";
  const pieces = node.children.map((child) => before + inPieces(child, depth - 1, lines));
  return `${headOf("", node)}>${pieces.join("")}${lines?.after() ?? ""}</${node.name}>`;
}

/**
 * A text that was put together is kept in its pieces until a sign of it is read; over a long score millions
 * of them would lie about.
 */
function inOnePiece(text: string): string {
  text.charCodeAt(text.length - 1);
  return text;
}

/** What is written already with a node after it. */
function withNode(before: string, node: XmlNode, outer: LineBreaks | undefined): string {
  switch (node.kind) {
    case "text":
      return before + node.raw;
    case "comment":
      return `${before}<!--${node.raw}-->`;
    case "cdata":
      return `${before}<![CDATA[${node.raw}]]>`;
    case "instruction":
      return `${before}<?${node.target}${node.raw}?>`;
    case "element": {
      const printed = headOf(before, node);
      if (node.children.length === 0) return `${printed}/>`;
      return `${withChildrenOf(`${printed}>`, node, linesIn(node, outer))}</${node.name}>`;
    }
  }
}

function withChildrenOf(before: string, { children }: XmlElement, lines: LineBreaks | undefined): string {
  let printed = before;
  if (lines === undefined) {
    for (const child of children) printed = withNode(printed, child, undefined);
    return printed;
  }
  const lineBreak = lines.within();
  for (const child of children) printed = withNode(printed + lineBreak, child, lines);
  return printed + lines.after();
}

/** A start tag that is not closed yet. */
function headOf(before: string, { name, attributes }: XmlElement): string {
  let printed = `${before}<${name}`;
  // Most have none, and walking through nothing takes time too.
  if (attributes.size > 0) for (const [key, raw] of attributes) printed += ` ${key}="${withoutQuotes(raw)}"`;
  return printed;
}

/** The raw value may hold a double quote where the file had single quotes around it. */
const withoutQuotes = (raw: string): string => (raw.includes('"') ? raw.replace(/"/g, "&quot;") : raw);

/** The line breaks between the children of an element; undefined where it is printed as it stands. */
function linesIn(element: XmlElement, outer: LineBreaks | undefined): LineBreaks | undefined {
  const lines = element.layout === undefined ? outer : new LineBreaks(element.layout);
  return lines !== undefined && hasElements(element) ? lines : undefined;
}

/** The line breaks of an element that is laid out, level by level. */
class LineBreaks {
  readonly #known: string[] = [];
  readonly #indentation: string;
  #depth: number;

  constructor({ indentation, depth }: Layout) {
    this.#indentation = indentation;
    this.#depth = depth;
  }

  /** Before each child of the element that begins here. */
  within(): string {
    this.#depth += 1;
    return this.#here();
  }

  /** Before the end of that element. */
  after(): string {
    this.#depth -= 1;
    return this.#here();
  }

  #here(): string {
    this.#known[this.#depth] ??= `\n${this.#indentation.repeat(this.#depth)}`;
    return this.#known[this.#depth] ?? "";
  }
}

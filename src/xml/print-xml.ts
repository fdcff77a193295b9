import type { XmlDocument, XmlElement, XmlNode } from "./xml-tree.js";

/** The document as text. What was not changed comes out as it came in, except quotes and `<a></a>`. */
export const printXml = (document: XmlDocument): string =>
  document.prolog + printNode(document.root) + document.epilog;

/** One node as text. An element without children is written `<a/>`. */
export const printNode = (node: XmlNode): string => inPieces(node, DEPTH_OF_A_MEASURE);

/** A measure stands in a part, a part in the score. */
const DEPTH_OF_A_MEASURE = 2;

/** Measure by measure, joined in the end: within a measure one text that grows is quickest. */
function inPieces(node: XmlNode, depth: number): string {
  if (depth === 0 || node.kind !== "element" || node.children.length === 0)
    return inOnePiece(withNode("", node));
  const pieces = node.children.map((child) => inPieces(child, depth - 1));
  return `${headOf("", node)}>${pieces.join("")}</${node.name}>`;
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
function withNode(before: string, node: XmlNode): string {
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
      let printed = headOf(before, node);
      if (node.children.length === 0) return `${printed}/>`;
      printed += ">";
      for (const child of node.children) printed = withNode(printed, child);
      return `${printed}</${node.name}>`;
    }
  }
}

/** A start tag that is not closed yet. */
function headOf(before: string, { name, attributes }: XmlElement): string {
  let printed = `${before}<${name}`;
  for (const [key, raw] of attributes) printed += ` ${key}="${withoutQuotes(raw)}"`;
  return printed;
}

/** The raw value may hold a double quote where the file had single quotes around it. */
const withoutQuotes = (raw: string): string => (raw.includes('"') ? raw.replace(/"/g, "&quot;") : raw);

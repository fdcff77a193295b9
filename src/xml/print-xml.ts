import type { XmlDocument, XmlNode } from "./xml-tree.js";

/** The document as text. What was not changed comes out as it came in, except quotes and `<a></a>`. */
export const printXml = (document: XmlDocument): string =>
  withNode(document.prolog, document.root) + document.epilog;

/** One node as text. An element without children is written `<a/>`. */
export const printNode = (node: XmlNode): string => withNode("", node);

/** What is written already with a node after it: one long text that grows, in place of one for each node. */
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
      let printed = `${before}<${node.name}`;
      for (const [name, raw] of node.attributes) printed += ` ${name}="${withoutQuotes(raw)}"`;
      if (node.children.length === 0) return `${printed}/>`;
      printed += ">";
      for (const child of node.children) printed = withNode(printed, child);
      return `${printed}</${node.name}>`;
    }
  }
}

/** The raw value may hold a double quote where the file had single quotes around it. */
const withoutQuotes = (raw: string): string => (raw.includes('"') ? raw.replace(/"/g, "&quot;") : raw);

import type { XmlDocument, XmlNode } from "./xml-tree.js";

/** The document as text. What was not changed comes out as it came in, except quotes and `<a></a>`. */
export const printXml = (document: XmlDocument): string =>
  document.prolog + printNode(document.root) + document.epilog;

/** One node as text. An element without children is written `<a/>`. */
export function printNode(node: XmlNode): string {
  switch (node.kind) {
    case "text":
      return node.raw;
    case "comment":
      return `<!--${node.raw}-->`;
    case "cdata":
      return `<![CDATA[${node.raw}]]>`;
    case "instruction":
      return `<?${node.target}${node.raw}?>`;
    case "element": {
      let head = `<${node.name}`;
      // The raw value may hold a double quote where the file had single quotes around it.
      for (const [name, raw] of node.attributes) head += ` ${name}="${raw.replace(/"/g, "&quot;")}"`;
      if (node.children.length === 0) return `${head}/>`;
      let inner = "";
      for (const child of node.children) inner += printNode(child);
      return `${head}>${inner}</${node.name}>`;
    }
  }
}

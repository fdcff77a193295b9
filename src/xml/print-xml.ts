import { Utf8Text } from "./utf8-text.js";
import { hasElements, type Layout, type XmlDocument, type XmlElement, type XmlNode } from "./xml-tree.js";

/** The document as text. What was not changed comes out as it came in, except quotes and `<a></a>`. */
export const printXml = (document: XmlDocument): string =>
  new TextDecoder("utf-8", { ignoreBOM: true }).decode(printedBytes(document));

/** The same as UTF-8. */
export function printedBytes({ prolog, root, epilog }: XmlDocument): Uint8Array<ArrayBuffer> {
  const printed = new Utf8Text();
  printed.add(prolog);
  addNode(printed, root, undefined);
  printed.add(epilog);
  return printed.end();
}

/** An element without children is written `<a/>`. */
function addNode(printed: Utf8Text, node: XmlNode, outer: LineBreaks | undefined): void {
  switch (node.kind) {
    case "text":
      printed.add(node.raw);
      return;
    case "comment":
      printed.add(`<!--${node.raw}-->`);
      return;
    case "cdata":
      printed.add(`<![CDATA[${node.raw}]]>`);
      return;
    case "instruction":
      printed.add(`<?${node.target}${node.raw}?>`);
      return;
    case "element":
      addElement(printed, node, outer);
  }
}

function addElement(printed: Utf8Text, node: XmlElement, outer: LineBreaks | undefined): void {
  const { name, attributes, children } = node;
  printed.add("<");
  printed.add(name);
  // Most have none, and walking through nothing takes time too.
  if (attributes.size > 0) addAttributes(printed, attributes);
  const only = children[0];
  if (only === undefined) {
    printed.add("/>");
    return;
  }
  printed.add(">");
  // The most frequent of all, and never laid out.
  if (children.length === 1 && only.kind === "text") printed.add(only.raw);
  else addChildren(printed, node, linesIn(node, outer));
  printed.add("</");
  printed.add(name);
  printed.add(">");
}

function addChildren(printed: Utf8Text, { children }: XmlElement, lines: LineBreaks | undefined): void {
  if (lines === undefined) {
    for (const child of children) addNode(printed, child, undefined);
    return;
  }
  const lineBreak = lines.within();
  for (const child of children) {
    printed.add(lineBreak);
    addNode(printed, child, lines);
  }
  printed.add(lines.after());
}

function addAttributes(printed: Utf8Text, attributes: XmlElement["attributes"]): void {
  attributes.forEach((raw, key) => {
    printed.add(" ");
    printed.add(key);
    printed.add('="');
    printed.add(withoutQuotes(raw));
    printed.add('"');
  });
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
    // Joined, not added up: the engine reads a sum of texts sign by sign far slower than one text.
    this.#known[this.#depth] ??= ["\n", ...Array<string>(this.#depth).fill(this.#indentation)].join("");
    return this.#known[this.#depth] ?? "";
  }
}

import { hasElements, type Layout, type XmlDocument, type XmlElement, type XmlNode } from "./xml-tree.js";

/**
 * The document as UTF-8. What was not changed comes out as it came in, except quotes and `<a></a>`, which is
 * written `<a/>`.
 */
export function printedBytes({ prolog, root, epilog }: XmlDocument): Uint8Array<ArrayBuffer> {
  const printed = new PrintedBytes();
  printed.put(prolog);
  putNode(root, printed);
  printed.put(epilog);
  return printed.whole();
}

/** The same as text. */
export const printXml = (document: XmlDocument): string => DECODER.decode(printedBytes(document));

/** One node as text. */
export function printNode(node: XmlNode): string {
  const printed = new PrintedBytes();
  putNode(node, printed);
  return DECODER.decode(printed.whole());
}

function putNode(node: XmlNode, printed: PrintedBytes, lines?: LineBreaks): void {
  switch (node.kind) {
    case "text":
      printed.put(node.raw);
      return;
    case "comment":
      printed.put(`<!--${node.raw}-->`);
      return;
    case "cdata":
      printed.put(`<![CDATA[${node.raw}]]>`);
      return;
    case "instruction":
      printed.put(`<?${node.target}${node.raw}?>`);
      return;
    case "element":
      putElement(node, printed, node.layout === undefined ? lines : new LineBreaks(node.layout));
  }
}

function putElement(element: XmlElement, printed: PrintedBytes, lines: LineBreaks | undefined): void {
  const { name, attributes, children } = element;
  printed.put("<");
  printed.put(name);
  // Most have none, and walking through nothing takes time too.
  if (attributes.size > 0) putAttributes(attributes, printed);
  if (children.length === 0) {
    printed.put("/>");
    return;
  }
  printed.put(">");
  if (lines !== undefined && hasElements(element)) putOnLines(children, printed, lines);
  else for (const child of children) putNode(child, printed);
  printed.put("</");
  printed.put(name);
  printed.put(">");
}

function putOnLines(children: readonly XmlNode[], printed: PrintedBytes, lines: LineBreaks): void {
  const before = lines.within();
  for (const child of children) {
    printed.put(before);
    putNode(child, printed, lines);
  }
  printed.put(lines.after());
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

function putAttributes(attributes: XmlElement["attributes"], printed: PrintedBytes): void {
  for (const [key, raw] of attributes) {
    printed.put(" ");
    printed.put(key);
    printed.put('="');
    printed.put(withoutQuotes(raw));
    printed.put('"');
  }
}

/** The raw value may hold a double quote where the file had single quotes around it. */
const withoutQuotes = (raw: string): string => (raw.includes('"') ? raw.replace(/"/g, "&quot;") : raw);

const ENCODER = new TextEncoder();
const DECODER = new TextDecoder("utf-8", { ignoreBOM: true });

/** Bytes that a sign of a text takes at most: one of two code units takes four. */
const MOST_BYTES = 3;

/** A text that is put together as the bytes it is written as: of a hundred thousand pieces none is kept. */
class PrintedBytes {
  #bytes = new Uint8Array(65_536);
  #length = 0;

  put(text: string): void {
    let at = this.#length;
    const bytes = this.#withRoomFor(text.length * MOST_BYTES);
    for (let index = 0; index < text.length; index += 1) {
      const code = text.charCodeAt(index);
      if (code > 0x7f) {
        at += ENCODER.encodeInto(text.slice(index), bytes.subarray(at)).written;
        break;
      }
      bytes[at] = code;
      at += 1;
    }
    this.#length = at;
  }

  whole(): Uint8Array<ArrayBuffer> {
    return this.#bytes.slice(0, this.#length);
  }

  #withRoomFor(more: number): Uint8Array {
    const needed = this.#length + more;
    if (needed > this.#bytes.length) {
      const larger = new Uint8Array(Math.max(needed, this.#bytes.length * 2));
      larger.set(this.#bytes.subarray(0, this.#length));
      this.#bytes = larger;
    }
    return this.#bytes;
  }
}

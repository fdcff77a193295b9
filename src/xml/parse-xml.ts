import { XMLParser } from "fast-xml-parser";
import { checkWellFormed } from "./well-formedness.js";
import type { XmlDocument, XmlElement, XmlNode } from "./xml-tree.js";

/** Everything stays as text, still escaped: nothing trimmed, no number made, no entity resolved. */
const RAW = {
  preserveOrder: true,
  ignoreAttributes: false,
  attributeNamePrefix: "@_",
  trimValues: false,
  parseTagValue: false,
  parseAttributeValue: false,
  processEntities: false,
  htmlEntities: false,
  commentPropName: "#comment",
  cdataPropName: "#cdata",
  ignoreDeclaration: false,
  ignorePiTags: false,
  allowBooleanAttributes: false,
  maxNestedTags: 100,
  jPath: false,
} as const;

/** One node as the parser gives it: a name with its children, and under ":@" the attributes. */
type ParsedNode = Readonly<Record<string, unknown>>;

const INSTRUCTION = "undervoice-instruction";

/**
 * Text to tree. The text is checked strictly first; nothing that a DOCTYPE names is ever fetched.
 *
 * @throws ScoreError with line and column, see `checkWellFormed`
 */
export function parseXml(source: string): XmlDocument {
  const xml = source.replace(/\r\n?/g, "\n");
  const { start, end } = checkWellFormed(xml);
  const instructions: string[] = [];
  // The parser keeps of an instruction only what looks like attributes, so it sees a numbered stand-in.
  const body = xml
    .slice(start, end)
    .replace(/<!--[\s\S]*?-->|<!\[CDATA\[[\s\S]*?\]\]>|<\?([\s\S]*?)\?>/g, (whole, instruction) =>
      instruction === undefined
        ? whole
        : `<?${INSTRUCTION} index="${instructions.push(instruction as string) - 1}"?>`,
    );
  const parsed = new XMLParser(RAW).parse(body) as readonly ParsedNode[];
  const [root] = parsed.map((node) => nodeOf(node, instructions));
  if (root?.kind !== "element") throw new Error("a well-formed text has a root element");
  return { prolog: xml.slice(0, start), root, epilog: xml.slice(end) };
}

function nodeOf(parsed: ParsedNode, instructions: readonly string[]): XmlNode {
  const name = Object.keys(parsed).find((key) => key !== ":@") ?? "";
  const content = parsed[name];
  if (name === "#text") return { kind: "text", raw: String(content) };
  if (name === "#comment") return { kind: "comment", raw: innerText(content) };
  if (name === "#cdata") return { kind: "cdata", raw: innerText(content) };
  const attributes = attributesOf(parsed[":@"]);
  if (name === `?${INSTRUCTION}`) {
    const instruction = instructions[Number(attributes.get("index"))] ?? "";
    const target = /^\S+/.exec(instruction)?.[0] ?? "";
    return { kind: "instruction", target, raw: instruction.slice(target.length) };
  }
  const children = (content as readonly ParsedNode[]).map((child) => nodeOf(child, instructions));
  return { kind: "element", name, attributes, children } satisfies XmlElement;
}

const innerText = (content: unknown): string =>
  String((content as readonly ParsedNode[])[0]?.["#text"] ?? "");

const attributesOf = (parsed: unknown): ReadonlyMap<string, string> =>
  new Map(
    Object.entries((parsed ?? {}) as Readonly<Record<string, string>>).map(([key, value]) => [
      key.slice(RAW.attributeNamePrefix.length),
      value,
    ]),
  );

import { XMLParser } from "fast-xml-parser";
import { checkWellFormed } from "./well-formedness.js";
import { NO_ATTRIBUTES, type XmlDocument, type XmlElement, type XmlNode } from "./xml-tree.js";

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
  const name = nameOf(parsed);
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

function nameOf(parsed: ParsedNode): string {
  for (const key in parsed) if (key !== ":@") return key;
  return "";
}

const innerText = (content: unknown): string =>
  String((content as readonly ParsedNode[])[0]?.["#text"] ?? "");

function attributesOf(parsed: unknown): ReadonlyMap<string, string> {
  if (parsed === undefined) return NO_ATTRIBUTES;
  const attributes = new Map<string, string>();
  const given = parsed as Readonly<Record<string, string>>;
  for (const key in given) attributes.set(key.slice(RAW.attributeNamePrefix.length), given[key] ?? "");
  return attributes;
}

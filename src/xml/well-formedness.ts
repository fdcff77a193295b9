import { SaxesParser } from "saxes";
import { ScoreError } from "../diagnostics.js";
import { FILE_LIMITS } from "./file-limits.js";

/** Where the root element begins and ends in a well-formed text. */
export interface RootExtent {
  readonly start: number;
  readonly end: number;
}

/** Names that objects of the language bear themselves; no element of MusicXML has one. */
const RESERVED_NAMES = new Set(["__proto__", "prototype", ...Object.getOwnPropertyNames(Object.prototype)]);

/**
 * Reads the text once from end to end, strictly, and keeps nothing but where the root element is. Line
 * ends must be plain newlines already.
 *
 * @throws ScoreError "not-well-formed" with line and column; "doctype-entities" before any entity could
 *   be used; "too-deep" and "too-many-elements" past the limits; "element-name"
 */
export function checkWellFormed(xml: string): RootExtent {
  const parser = new SaxesParser({ xmlns: false });
  let start: number | undefined;
  let end = xml.length;
  let depth = 0;
  let elements = 0;
  const place = () => ({ line: parser.line, column: parser.columnIndex + 1 });

  parser.on("error", (error) => {
    const found = error.message.replace(/^\d+:\d+: /, "").replace(/\.$/, "");
    throw new ScoreError({
      rule: "not-well-formed",
      place: place(),
      found,
      expected: "well-formed XML",
      message: `This is not well-formed XML: ${found}.`,
      hint: "The file may be cut off or damaged; export it again.",
    });
  });
  parser.on("doctype", (doctype) => {
    if (doctype.includes("<!ENTITY")) throw entitiesDeclared(place());
  });
  parser.on("opentagstart", ({ name }) => {
    start ??= xml.lastIndexOf("<", parser.position - 1);
    depth += 1;
    elements += 1;
    if (RESERVED_NAMES.has(name)) throw reservedName(name, place());
    if (depth > FILE_LIMITS.elementDepth) throw tooDeep(place());
    if (elements > FILE_LIMITS.elements) throw tooMany(place());
  });
  parser.on("closetag", () => {
    depth -= 1;
    if (depth === 0) end = parser.position;
  });
  parser.write(xml).close();
  return { start: start ?? 0, end };
}

type TextPlace = { readonly line: number; readonly column: number };

const entitiesDeclared = (place: TextPlace) =>
  new ScoreError({
    rule: "doctype-entities",
    place,
    found: "a DOCTYPE that declares entities",
    expected: "a plain DOCTYPE, or none",
    message: "The DOCTYPE declares entities. No score needs that, and they can be made to do harm.",
    hint: "Take the part in square brackets out of the DOCTYPE.",
  });

const reservedName = (name: string, place: TextPlace) =>
  new ScoreError({
    rule: "element-name",
    place,
    found: `an element named "${name}"`,
    expected: "elements of MusicXML",
    message: `An element named "${name}" cannot be read.`,
  });

const tooDeep = (place: TextPlace) =>
  new ScoreError({
    rule: "too-deep",
    place,
    found: `more than ${FILE_LIMITS.elementDepth} elements inside one another`,
    expected: `at most ${FILE_LIMITS.elementDepth}`,
    message: `Elements stand more than ${FILE_LIMITS.elementDepth} deep inside one another.`,
  });

const tooMany = (place: TextPlace) =>
  new ScoreError({
    rule: "too-many-elements",
    place,
    found: `more than ${FILE_LIMITS.elements} elements`,
    expected: `at most ${FILE_LIMITS.elements}`,
    message: `The file has more than ${FILE_LIMITS.elements} elements.`,
  });

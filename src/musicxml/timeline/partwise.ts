import { type Finding, type Findings, ScoreError } from "../../diagnostics.js";
import { listed } from "../../listed.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  childText,
  element,
  elementsOf,
  withAttribute,
  withChildren,
  type XmlDocument,
  type XmlElement,
  type XmlNode,
} from "../../xml/xml-tree.js";

/** One `<part>` of a partwise score with its name from the part list. */
export interface NamedPart {
  /** As it stands, blanks around it taken away. */
  readonly id: string;
  readonly name: string;
  readonly element: XmlElement;
}

/**
 * The score as one part after another, whichever way the file has it.
 *
 * @throws ScoreError "not-a-score" where the root is something else
 */
export function partwiseScore(root: XmlElement): XmlElement {
  if (root.name === "score-partwise") return root;
  if (root.name === "score-timewise") {
    const known = REGROUPED.get(root) ?? regrouped(root);
    REGROUPED.set(root, known);
    return known;
  }
  throw new ScoreError({
    rule: "not-a-score",
    place: { line: 1, column: 1 },
    found: `<${root.name}>`,
    expected: "<score-partwise> or <score-timewise>",
    message: `This is no MusicXML score: its root element is <${root.name}>.`,
    hint: "Export the score as MusicXML.",
  });
}

/** Regrouped once, so that what is known of its parts is found again. */
const REGROUPED = new WeakMap<XmlElement, XmlElement>();

/** The parts in the order of the file, each with its entry in the part list found by id. */
export function partsOf(score: XmlElement, findings: Findings): readonly NamedPart[] {
  const list = childNamed(score, "part-list");
  const entries = new Map(
    (list === undefined ? [] : childrenNamed(list, "score-part")).map((entry) => [idOf(entry), entry]),
  );
  return childrenNamed(score, "part").map((part) => {
    const id = idOf(part);
    const entry = entries.get(id);
    if (entry === undefined) findings.add(partNotListed(id));
    return { id, name: (entry && childText(entry, "part-name")) ?? "", element: part };
  });
}

const idOf = (part: XmlElement): string => (attributeOf(part, "id") ?? "").trim();

/** Measure by measure to part by part. A part that a measure leaves out gets an empty measure there. */
function regrouped(root: XmlElement): XmlElement {
  const measures = childrenNamed(root, "measure");
  const ids = [...new Set(measures.flatMap((measure) => childrenNamed(measure, "part").map(idOf)))];
  const parts = ids.map((id) =>
    element(
      "part",
      { id },
      measures.map((measure): XmlElement => {
        const here = childrenNamed(measure, "part").find((part) => idOf(part) === id);
        return withChildren(measure, here?.children ?? []);
      }),
    ),
  );
  const before: XmlNode[] = [];
  for (const child of root.children) {
    if (child.kind === "element" && child.name === "measure") break;
    before.push(child);
  }
  const named = { ...root, name: "score-partwise" };
  const version = attributeOf(root, "version");
  return withChildren(withAttribute(named, "version", version), [...before, ...parts]);
}

/** All of a score's parts by name, for messages. */
export function partNames(parts: readonly NamedPart[]): string {
  if (parts.length === 0) return "no parts";
  const named = parts.map(({ id, name }) =>
    name === "" ? id : `${id} (${name.length > LONGEST_NAME ? `${name.slice(0, LONGEST_NAME)}…` : name})`,
  );
  return listed(named, MOST_NAMED);
}

/** An orchestra of more parts, and a name of more letters, would bury what is said of them. */
const MOST_NAMED = 40;
const LONGEST_NAME = 80;

/** Children of all measures of a part that bear a name, in document order. */
export const measureElements = (part: XmlElement): readonly XmlElement[] =>
  elementsOf(part).filter((child) => child.name === "measure");

const partNotListed = (id: string): Finding => ({
  rule: "part-not-listed",
  severity: "warning",
  place: { part: id },
  found: `part "${id}" without an entry in the part list`,
  expected: "a <score-part> of the same id",
  message: `Part "${id}" is not in the part list; it was read without a name.`,
});

/** A score that came measure by measure is written part by part, and its DOCTYPE must say so. */
export const partwiseProlog = ({ prolog, root }: XmlDocument): string =>
  root.name === "score-timewise"
    ? prolog
        .replace(/(<!DOCTYPE\s+)score-timewise/, "$1score-partwise")
        .replace(/(<!DOCTYPE[^>]*\/\/DTD MusicXML [0-9.]+ )Timewise/, "$1Partwise")
        .replace(/(<!DOCTYPE[^>]*)timewise\.dtd/, "$1partwise.dtd")
    : prolog;

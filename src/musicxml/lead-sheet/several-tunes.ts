import { type Finding, type Findings, ScoreError } from "../../diagnostics.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  childText,
  element,
  elementsOf,
  withChildren,
  withElements,
  type XmlDocument,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { readOwnField } from "../round-trip/provenance.js";
import { partsOf, partwiseScore } from "../timeline/partwise.js";
import { placeIn, type WalkedPart } from "../timeline/walked-part.js";
import { walkedPart } from "../timeline/walked-score.js";

/** Measures of one tune of several in a file, by position from 0: `end` is the first that is none of it. */
interface Span {
  readonly start: number;
  readonly end: number;
}

/**
 * The tunes that a file may hold one after another: each ends with a final barline. One that ends in a
 * repeat is followed by another tune only where the numbers of the measures begin anew.
 */
export function tunesIn(part: WalkedPart): readonly Span[] {
  const starts = part.measures.flatMap(({ index, label }) => {
    if (index === 0) return [0];
    const final = part.barlines.find(
      ({ location, measure, element: barline }) =>
        location === "right" && measure === index - 1 && childText(barline, "bar-style") === "light-heavy",
    )?.element;
    if (final === undefined) return [];
    const goesBack = childNamed(final, "repeat") !== undefined || childNamed(final, "ending") !== undefined;
    return !goesBack || /^[01]$/.test(label) ? [index] : [];
  });
  return starts.map((start, index) => ({ start, end: starts[index + 1] ?? part.measures.length }));
}

/** What is said of a file that is read as one tune and may hold several. */
export function severalTunes(part: WalkedPart): readonly Finding[] {
  const spans = tunesIn(part);
  const last = part.measures[(spans[0]?.end ?? 0) - 1];
  if (spans.length < 2 || last === undefined) return [];
  return [
    {
      rule: "several-tunes",
      severity: "note",
      place: placeIn(part, last),
      found: `${spans.length} tunes, in measures ${spansInWords(spans)}`,
      expected: "one tune in a file",
      message: `A final barline stands before the end: the file may hold ${spans.length} tunes, in measures ${spansInWords(spans)}. It was read as one.`,
      hint: "The option tune takes one of them.",
    },
  ];
}

/**
 * The score with nothing but one of its tunes, in all its parts. Keys, meters, clefs and whatever else was in
 * force where it begins are stated there.
 *
 * @param number which tune, from 1; 0 is all of them
 * @throws ScoreError "tune-unknown" where there are fewer
 */
export function withOneTune(document: XmlDocument, number: number, findings: Findings): XmlDocument {
  // What was arranged from one tune holds that alone.
  if (number === 0 || readOwnField(document.root)?.options.tune !== undefined) return document;
  const score = partwiseScore(document.root);
  const [first] = partsOf(score, findings);
  const spans = first === undefined ? [] : tunesIn(walkedPart(first, findings));
  const span = spans[number - 1];
  if (span === undefined) throw tuneUnknown(number, spans);
  if (spans.length === 1) return document;
  findings.add(tuneTaken(number, spans));
  const root = withElements(score, (child) => (child.name === "part" ? measuresOf(child, span) : child));
  return { ...document, root };
}

function measuresOf(part: XmlElement, { start, end }: Span): XmlElement {
  let index = -1;
  const inForce = new Map<string, XmlElement>();
  return withElements(part, (child) => {
    if (child.name !== "measure") return child;
    index += 1;
    if (index < start)
      for (const attributes of childrenNamed(child, "attributes")) noteDown(attributes, inForce);
    if (index < start || index >= end) return undefined;
    return index === start ? statingAll(child, inForce) : child;
  });
}

/** What stays in force until it is stated anew, in the order of the standard. */
const LASTING = [
  "divisions",
  "key",
  "time",
  "staves",
  "part-symbol",
  "instruments",
  "clef",
  "staff-details",
  "transpose",
];

function noteDown(attributes: XmlElement, inForce: Map<string, XmlElement>): void {
  for (const child of elementsOf(attributes))
    if (LASTING.includes(child.name))
      inForce.set(`${child.name} ${attributeOf(child, "number") ?? ""}`, child);
}

/** A measure that states at its beginning what is in force there. */
function statingAll(measure: XmlElement, before: ReadonlyMap<string, XmlElement>): XmlElement {
  const opening = elementsOf(measure).findIndex(({ name }) => OPENING_ENDS.has(name));
  const isOpening = (child: XmlElement) => {
    const at = elementsOf(measure).indexOf(child);
    return child.name === "attributes" && (opening < 0 || at < opening);
  };
  const own = elementsOf(measure).find(isOpening);
  const inForce = new Map(before);
  if (own !== undefined) noteDown(own, inForce);
  if (inForce.size === 0) return measure;
  const stated = LASTING.flatMap((name) => [...inForce.values()].filter((child) => child.name === name));
  const others = own === undefined ? [] : elementsOf(own).filter(({ name }) => !LASTING.includes(name));
  const whole = element("attributes", {}, [...stated, ...others]);
  if (own !== undefined) return withElements(measure, (child) => (child === own ? whole : child));
  return withChildren(measure, [whole, ...measure.children]);
}

const OPENING_ENDS = new Set(["note", "backup", "forward"]);

const spansInWords = (spans: readonly Span[]): string =>
  spans
    .map(({ start, end }) => (end - start === 1 ? `${end}` : `${start + 1} to ${end}`))
    .join(", ")
    .replace(/, ([^,]*)$/, " and $1");

const tuneTaken = (number: number, spans: readonly Span[]): Finding => ({
  rule: "tune-taken",
  severity: "note",
  place: {},
  found: `${spans.length} tunes, in measures ${spansInWords(spans)}`,
  expected: `tune ${number}`,
  message: `Of the ${spans.length} tunes in the file, in measures ${spansInWords(spans)}, number ${number} was taken; measures are counted from its start.`,
});

const tuneUnknown = (number: number, spans: readonly Span[]) =>
  new ScoreError({
    rule: "tune-unknown",
    place: {},
    found: `tune ${number}`,
    expected: spans.length === 1 ? "the only tune there is" : `a tune from 1 to ${spans.length}`,
    message: `There is no tune ${number} in the file; it holds ${spans.length === 1 ? "one" : `${spans.length}, in measures ${spansInWords(spans)}`}.`,
    hint: "Tunes are told apart by the final barline between them.",
  });

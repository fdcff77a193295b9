import type { Finding, Place } from "../../diagnostics.js";
import { attributeOf, elementsOf, textOf, type XmlElement } from "../../xml/xml-tree.js";
import { placeIn, type WalkedItem, type WalkedNote, type WalkedPart } from "../timeline/walked-part.js";
import { MOST_DOTS_READ, NUMBER_LIMITS, type NumberLimit, type NumberName } from "./number-limits.js";
import { isReadable } from "./read-number.js";

/** A number that a score states and that is none, or beyond its limits. */
interface UnreadableNumber {
  readonly name: NumberName;
  readonly found: string;
}

/** Names that a finding here is made for; the rest has findings of its own. */
const SAID_HERE = (Object.keys(NUMBER_LIMITS) as NumberName[]).filter(
  (name) => !("isSaidByReader" in NUMBER_LIMITS[name]),
);
const ELEMENTS: ReadonlySet<string> = new Set(SAID_HERE);
const ATTRIBUTES: ReadonlyMap<string, readonly [NumberName, string]> = new Map(
  SAID_HERE.flatMap((name) => {
    const [holder = "", attribute] = name.split("@");
    return attribute === undefined ? [] : [[holder, [name, attribute] as const]];
  }),
);

/** Numbers of a part that were read as if they were not there, and notes whose pitch cannot be read. */
export function unreadableNumbers(part: WalkedPart): readonly Finding[] {
  const placeOf = ({ measure, at }: WalkedItem | WalkedNote): Place => {
    const here = part.measures[measure];
    return here === undefined ? { part: part.id } : placeIn(part, here, at);
  };
  const stated = [...part.attributes, ...part.notes, ...part.harmonies, ...part.directions, ...part.barlines];
  return [
    ...stated.flatMap((item) =>
      unreadableIn(item.element).map((number) => numberUnreadable(number, placeOf(item))),
    ),
    ...part.notes.flatMap((note) => {
      const dots = elementsOf(note.element).filter(({ name }) => name === "dot").length;
      return [
        ...(dots > MOST_DOTS_READ ? [dotsUncounted(dots, placeOf(note))] : []),
        ...(note.written === undefined && hasPitch(note) ? [pitchUnreadable(note, placeOf(note))] : []),
      ];
    }),
  ];
}

function unreadableIn(element: XmlElement): readonly UnreadableNumber[] {
  const unreadable: UnreadableNumber[] = [];
  const look = (name: NumberName, found: string) => {
    if (found.trim() !== "" && !isReadable(name, found)) unreadable.push({ name, found: found.trim() });
  };
  const visit = (here: XmlElement) => {
    if (ELEMENTS.has(here.name)) look(here.name as NumberName, textOf(here));
    const [name, attribute] = ATTRIBUTES.get(here.name) ?? [];
    if (name !== undefined && attribute !== undefined) look(name, attributeOf(here, attribute) ?? "");
    for (const child of here.children) if (child.kind === "element") visit(child);
  };
  visit(element);
  return unreadable;
}

const hasPitch = ({ element }: WalkedNote): boolean =>
  elementsOf(element).some(({ name }) => name === "pitch");

const FORMS: Readonly<Record<NumberLimit["form"], string>> = {
  whole: "a whole number",
  decimal: "a number",
  sum: "a whole number or a sum of some",
  list: "whole numbers",
};

function numberUnreadable({ name, found }: UnreadableNumber, place: Place): Finding {
  const { form, least, most } = NUMBER_LIMITS[name];
  const expected = `${FORMS[form]} from ${least} to ${most}`;
  return {
    rule: "number-unreadable",
    severity: "warning",
    place,
    found: `${shown(found)} in <${name.replace("@", " ")}>`,
    expected,
    message: `Unexpected ${shown(found)} in <${name.replace("@", " ")}>, expected ${expected}; it was read as if it were not there.`,
  };
}

const dotsUncounted = (dots: number, place: Place): Finding => ({
  rule: "number-unreadable",
  severity: "warning",
  place,
  found: `${dots} dots on one note`,
  expected: `at most ${MOST_DOTS_READ}`,
  message: `A note has ${dots} dots, more than ${MOST_DOTS_READ}; its type was not counted, its duration was.`,
});

function pitchUnreadable({ element }: WalkedNote, place: Place): Finding {
  const pitch = elementsOf(element).find(({ name }) => name === "pitch");
  const said = pitch === undefined ? "" : elementsOf(pitch).map((one) => textOf(one).trim());
  const found = shown(typeof said === "string" ? said : said.join(" "));
  return {
    rule: "pitch-unreadable",
    severity: "warning",
    place,
    found: `a note of the pitch ${found}`,
    expected: "a step from A to G and an octave from 0 to 9",
    message: `The pitch ${found} of a note cannot be read; the note was left out.`,
    hint: "Enter the note again in your notation program.",
  };
}

/** A text as found, cut where it goes on and on. */
const shown = (text: string): string => `"${text.length > 40 ? `${text.slice(0, 40)}…` : text}"`;

import { attributeOf, childrenNamed, elementsOf, textOf, type XmlElement } from "../../xml/xml-tree.js";
import { isHandWord } from "../guitar-writing/barre-marks.js";
import { isLetRing } from "../guitar-writing/let-ring.js";

/** A sign on a note or above a staff that is no part of the grips themselves. */
export interface Sign {
  /** As it is named: `slur`, `articulations staccato`, `words "dolce"`. */
  readonly name: string;
  readonly element: XmlElement;
  /** What holds it in a note: an element of `<notations>`, those themselves, or the note. */
  readonly holder: "articulations" | "ornaments" | "technical" | "notations" | "note";
  /** Whether it belongs to one pitch, and not to all that is struck with it. */
  readonly isOfPitch: boolean;
  /** Which end of a line it is. */
  readonly end: "start" | "stop" | "between" | undefined;
}

/** Marks that hold others: each of those is one. */
const HOLDERS = ["articulations", "ornaments", "technical"] as const;

/** What a part is written with anew: ties, tuplets, strings, frets, fingers. */
const WRITTEN_ANEW = new Set(["tuplet", "string", "fret", "fingering", "footnote", "level"]);

/** Signs whose ends are elements of their own. */
const LINES = [
  "slur",
  "glissando",
  "slide",
  "hammer-on",
  "pull-off",
  "wavy-line",
  "tremolo",
  "wedge",
  "dashes",
  "bracket",
  "octave-shift",
  "pedal",
];

const OF_PITCH = ["glissando", "slide", "accidental-mark", "tied"];

/** The signs of a `<note>`: what ends there before what begins, else in the order they stand in. */
export function signsOnNote(note: XmlElement): readonly Sign[] {
  const signs: Sign[] = [];
  for (const child of note.children) {
    if (child.kind !== "element" || child.name !== "notations") continue;
    for (const one of child.children) if (one.kind === "element") addNotation(signs, one);
  }
  for (const lyric of childrenNamed(note, "lyric")) addSign(signs, lyric, "note", false);
  return signs.length < 2 ? signs : signs.sort((a, b) => Number(b.end === "stop") - Number(a.end === "stop"));
}

function addNotation(signs: Sign[], one: XmlElement): void {
  const holder = HOLDERS.find((name) => name === one.name);
  if (holder === undefined) addSign(signs, one, "notations", OF_PITCH.includes(one.name));
  else
    for (const child of one.children)
      if (child.kind === "element") addSign(signs, child, holder, holder !== "articulations");
}

function addSign(signs: Sign[], one: XmlElement, holder: Sign["holder"], isOfPitch: boolean): void {
  // A tie that joins two notes follows from their lengths.
  if (WRITTEN_ANEW.has(one.name) || (one.name === "tied" && !isLetRing(one))) return;
  const isNamedByHolder = holder === "articulations" || holder === "ornaments";
  const name = isNamedByHolder ? `${holder} ${nameOf(one)}` : nameOf(one);
  signs.push({ name, element: one, holder, isOfPitch, end: endOf(one) });
}

/** A sign above or below a staff, with the `<direction-type>` that it is. */
export type DirectionSign = Pick<Sign, "name" | "element" | "end">;

/** The signs of a `<direction>` but for the names of barres and positions, which are written anew. */
export const signsOfDirection = (direction: XmlElement): readonly DirectionSign[] =>
  childrenNamed(direction, "direction-type").flatMap((type) => {
    const contents = elementsOf(type);
    const [first] = contents;
    if (first === undefined || contents.every(isHandName)) return [];
    return [{ name: contents.map(nameOf).join(" "), element: type, end: endOf(first) }];
  });

const isHandName = (content: XmlElement): boolean => content.name === "words" && isHandWord(textOf(content));

/** Name of a tie that leads to nothing. */
export const LET_RING = "let-ring";

const TEXTS = ["words", "rehearsal", "symbol", "other-notation", "other-direction", "other-articulation"];

function nameOf(one: XmlElement): string {
  if (one.name === "dynamics")
    return [
      one.name,
      ...elementsOf(one).map((sign) => (sign.name === "other-dynamics" ? textOf(sign).trim() : sign.name)),
    ].join(" ");
  if (one.name === "lyric") {
    const words = childrenNamed(one, "text").map((word) => textOf(word).trim());
    return words.length === 0 ? one.name : `${one.name} "${words.join(" ")}"`;
  }
  if (one.name === "tied") return LET_RING;
  return TEXTS.includes(one.name) ? `${one.name} "${textOf(one).trim()}"` : one.name;
}

function endOf(one: XmlElement): Sign["end"] {
  if (!LINES.includes(one.name)) return undefined;
  const type = attributeOf(one, "type") ?? "";
  if (type === "stop" || type === "discontinue") return "stop";
  if (type === "continue" || type === "change" || type === "resume") return "between";
  return type === "single" || type === "unmeasured" ? undefined : "start";
}

/** The element that has the number of a line. */
export const lineElement = (sign: XmlElement): XmlElement =>
  sign.name === "direction-type" ? (elementsOf(sign)[0] ?? sign) : sign;

/** What the ends of one line have in common: "slur 1". */
export function lineName(sign: XmlElement): string {
  const one = lineElement(sign);
  return `${one.name} ${attributeOf(one, "number") ?? "1"}`;
}

/** Such are the lines of barres, and hardly any others; beside the name of a barre a player may begin one of another kind. */
export function isDashedBracket({ element }: Pick<Sign, "element">): boolean {
  const line = lineElement(element);
  return line.name === "bracket" && attributeOf(line, "line-type") === "dashed";
}

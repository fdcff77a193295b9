import { type ChordNames, namesUsed } from "../../harmony/chord-names.js";
import { parseChordText } from "../../harmony/chord-text.js";
import { attributeOf, childrenNamed, textOf, type XmlElement } from "../../xml/xml-tree.js";
import type { WalkedItem, WalkedPart } from "../timeline/walked-part.js";
import type { ReadChord } from "./read-harmony.js";

/** Text that was read as chords, several where it names several: "C  Am". */
export interface ChordText extends WalkedItem {
  readonly text: string;
  readonly chords: readonly ReadChord[];
}

/** Text that looks like a chord and could not be read, or that may be one and was not taken for one. */
export interface UnreadText extends WalkedItem {
  readonly text: string;
}

/** The words above a staff, blanks around them taken away, by time. */
export const wordsAbove = (part: WalkedPart): readonly UnreadText[] =>
  part.directions.flatMap((item) => {
    const text = textAbove(item.element);
    return text === undefined ? [] : [{ ...item, text }];
  });

function textAbove(direction: XmlElement): string | undefined {
  if (direction.name !== "direction" || attributeOf(direction, "placement") === "below") return undefined;
  const words = childrenNamed(direction, "direction-type").flatMap((type) => childrenNamed(type, "words"));
  // What is framed is a rehearsal mark, whatever it says.
  if (words.some((word) => (attributeOf(word, "enclosure") ?? "none") !== "none")) return undefined;
  const text = words.map(textOf).join("").trim();
  return text === "" || IN_UNISON.test(text) ? undefined : text;
}

/** "a 2": two players of one part together. */
const IN_UNISON = /^a ?[2-4]\.?$/;

/** The names that a score's texts call chords by. */
export const namesOf = (texts: readonly string[]): ChordNames =>
  namesUsed(
    texts.flatMap((text) => piecesOf(text)),
    (text, names) => isChordText(text, names) && !isBare(text),
  );

/** The chords that a whole text names, one or several; undefined where anything in it is something else. */
export function chordsIn(text: string, names: ChordNames): readonly ReadChord[] | undefined {
  const whole = parseChordText(text, names);
  if (whole !== undefined) return [whole];
  for (const pieces of [piecesOf(text), text.split(RUN_TOGETHER)]) {
    const chords = pieces.map((piece) => parseChordText(piece, names));
    if (chords.length > 0 && chords.every((chord) => chord !== undefined)) return chords;
  }
  return undefined;
}

/**
 * What a text says one after another, without barlines between and remarks after: "C  Am" is two, "G7 (hold)"
 * is one, "(Am)" is what stands in it.
 */
function piecesOf(text: string): readonly string[] {
  const inner = /^[([]\s*([^()[\]]*?)\s*[)\]]$/.exec(text.trim())?.[1];
  if (inner !== undefined) return piecesOf(inner);
  return text
    .replace(REMARK, " ")
    .split(/[\s|,;]+/)
    .map((piece) => piece.replace(/[.:]+$/, (end) => (/^n\.?c/i.test(piece) ? end : "")))
    .filter((piece) => piece !== "");
}

/** Between chords with a dash or nothing between them: "Bb-Bdim-Cm7", "A7D7". */
const RUN_TOGETHER = /\s?[-\u2013](?=\s?[A-H])|(?<=\d)(?=[A-H])/;

/** A word or more in brackets, after a blank: "(hold)", "[2 x]". "C (b5)" and "C (maj7)" are chords. */
const REMARK = /\s[([](?!(?:maj|M7|add|sus|no|omit|alt|[b#+-]?\d+[),/]))[^()[\]]*[)\]]/gi;

const isChordText = (text: string, names: ChordNames): boolean => parseChordText(text, names) !== undefined;

/** A letter alone, or with a figure up to 4, may as well name a section: "A", "B2"; a small one is a word. */
export const isBare = (text: string): boolean => /^[A-Ha-h][1-4]?$/.test(text.trim());

/** Text that begins as a chord does: a root, and then a quality, a figure or a sign. */
export const looksLikeChord = (text: string): boolean =>
  text.length <= 24 &&
  /^[([]?[A-Ha-h](?:b|#|is|es|s|\u266d|\u266f)?(?:(?:maj|min|mi|dim|aug|sus|add|m)(?![a-z])|[+\u00b0\u00f8\u0394\u25b3]|[-/(](?=[\dA-G#b(+-]|maj|sus|add)|\d)/.test(
    text,
  ) &&
  !isBare(text);

/** Whether letters are the names of sections: each new one the next of the alphabet, from A. */
export function areSections(letters: readonly string[]): boolean {
  const seen = [...new Set(letters.map((letter) => letter.trim().slice(0, 1)))];
  return seen.join("") === "ABCDEFGH".slice(0, seen.length);
}

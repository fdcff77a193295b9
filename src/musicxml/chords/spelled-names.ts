import { type ChordNames, ENGLISH, noteNamed } from "../../harmony/chord-names.js";
import { plainChordText } from "../../harmony/chord-signs.js";
import { parseChordText } from "../../harmony/chord-text.js";
import {
  attributeOf,
  elementsOf,
  textOf,
  withAttribute,
  withElements,
  type XmlElement,
} from "../../xml/xml-tree.js";

/** Capitals only: a small letter begins a suffix, such as "dim". */
const OTHER_NAMES: readonly ChordNames[] = [
  { naming: "german", small: "none" },
  { naming: "italian", small: "none" },
];

/**
 * Takes from pieces of a chord symbol the printed texts that spell its root or its bass, "Am7" or "7/C" beside a kind:
 * in another key, or beside a root that is printed too, they are wrong. What was left unprinted beside such a text is
 * printed again.
 *
 * @param pieces all that belongs to the symbol
 * @param piece the one of them that is wanted
 */
export function withoutSpelledNames(pieces: readonly XmlElement[], piece: XmlElement): XmlElement {
  const kind = pieces.find(({ name }) => name === "kind");
  const kindName = kind === undefined ? "" : textOf(kind).trim();
  const isSpelled = (one: XmlElement) => spellsNames(one, kindName);
  const bare = (one: XmlElement) =>
    isSpelled(one) || attributeOf(one, "text")?.trim() === "" ? withAttribute(one, "text", undefined) : one;
  if (!pieces.flatMap(printed).some(isSpelled)) return piece;
  return piece.name === "kind" ? bare(piece) : isTone(piece) ? withElements(piece, bare) : piece;
}

const isTone = ({ name }: XmlElement): boolean => name === "root" || name === "bass";

/** What of a piece may say how it is printed. */
const printed = (piece: XmlElement): readonly XmlElement[] =>
  piece.name === "kind" ? [piece] : isTone(piece) ? elementsOf(piece) : [];

function spellsNames(one: XmlElement, kind: string): boolean {
  const text = plainChordText(attributeOf(one, "text") ?? "");
  // A root's own name is no more than what stands there anyway.
  if (text === "" || (one.name !== "kind" && noteNamed(text, ENGLISH) !== undefined)) return false;
  const whole = parseChordText(text);
  if (whole !== undefined) return whole !== "no-chord";
  return namesBass(text) || OTHER_NAMES.some((names) => isChord(text, names, kind));
}

/** Whether what stands after a root names a bass too. */
function namesBass(suffix: string): boolean {
  const symbol = parseChordText(`C${suffix}`);
  return symbol !== undefined && symbol !== "no-chord" && symbol.bass !== undefined;
}

/** "dom7" is no C minor seventh in Italian beside a dominant seventh: only with names for that very kind it is a whole name. */
function isChord(text: string, names: ChordNames, kind: string): boolean {
  const symbol = parseChordText(text, names);
  return symbol !== undefined && symbol !== "no-chord" && symbol.kind === kind;
}

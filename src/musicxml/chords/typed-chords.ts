import type { Findings } from "../../diagnostics.js";
import type { ChordNames } from "../../harmony/chord-names.js";
import type { ArrangeOptions } from "../../options/options.js";
import { childText, element, type XmlElement } from "../../xml/xml-tree.js";
import { placeIn, type WalkedItem, type WalkedPart } from "../timeline/walked-part.js";
import { chordsOfLine, lyricLines } from "./chord-lyrics.js";
import {
  areSections,
  type ChordText,
  chordsIn,
  isBare,
  looksLikeChord,
  namesOf,
  type UnreadText,
  wordsAbove,
} from "./chord-words.js";
import type { ReadChord } from "./read-harmony.js";
import { chordTextsRead, chordTextsUnread } from "./typed-chord-findings.js";

/** A `<harmony>` made from a text. */
export interface TypedItem extends WalkedItem {
  /** The direction or lyric that it was made from. */
  readonly from: XmlElement;
}

/** Chords that stand in a part as text. */
export interface TypedChords {
  /** As the `<harmony>` elements that say the same, by time. */
  readonly items: readonly TypedItem[];
  /** The directions and lyrics that were read. */
  readonly texts: readonly ChordText[];
  readonly unread: readonly UnreadText[];
  readonly names: ChordNames;
}

/**
 * Chords that were typed: as text above the staff, or as a line among the lyrics. They count beside the
 * part's own chord symbols; where one of those stands at the same time, that counts.
 *
 * @param symbols the part's `<harmony>` elements that name a chord
 */
export function typedChords(
  part: WalkedPart,
  symbols: readonly WalkedItem[],
  asked: ArrangeOptions["chordNames"],
): TypedChords {
  const words = wordsAbove(part);
  const lines = lyricLines(part);
  const names =
    asked === "auto" ? namesIn([words, ...lines.map(({ syllables }) => syllables)]) : namesAsked(asked);
  const above = chordsAbove(words, names, symbols.length > 0);
  const below = lines.flatMap((line) => chordsOfLine(line, names) ?? []);
  const symbolTimes = new Set(symbols.map(({ at }) => at.toFraction()));
  const texts = [...above.chords, ...below.flatMap(({ chords }) => chords)]
    .filter(({ at }) => !symbolTimes.has(at.toFraction()))
    .sort((one, other) => one.at.compare(other.at));
  return {
    items: texts.flatMap((text) =>
      text.chords.map((chord) => ({
        at: text.at,
        measure: text.measure,
        element: harmonyFor(chord, text.element),
        from: text.element,
      })),
    ),
    texts,
    unread: [...above.unread, ...below.flatMap(({ unread }) => unread)],
    names,
  };
}

/** Says what was read and what was not. */
export function tellTypedChords(
  { texts, unread, names }: TypedChords,
  part: WalkedPart,
  findings: Findings,
): void {
  const placeOf = (item: WalkedItem) => {
    const measure = part.measures[item.measure];
    return measure === undefined ? { part: part.id } : placeIn(part, measure, item.at);
  };
  const [first] = texts;
  if (first !== undefined) findings.add(chordTextsRead(texts, names, placeOf(first)));
  const [unknown] = unread;
  if (unknown !== undefined)
    findings.add(
      chordTextsUnread(
        unread.map((item) => ({ text: item.text, measure: item.measure + 1 })),
        placeOf(unknown),
      ),
    );
}

/** Each line of text by itself may be in another tongue than the chords: the one that most of it is read by. */
function namesIn(lines: readonly (readonly UnreadText[])[]): ChordNames {
  const likely = lines.filter((line, index) => index === 0 || chordsOfLineInAnyNames(line));
  return namesOf(likely.flat().map(({ text }) => text));
}

const NAMES = (["english", "german", "italian"] as const).map((naming) => ({
  naming,
  small: "capital" as const,
}));

const chordsOfLineInAnyNames = (line: readonly UnreadText[]): boolean =>
  NAMES.some(
    (names) =>
      chordsOfLine({ syllables: line.map((item) => ({ ...item, note: undefined })) }, names) !== undefined,
  );

const namesAsked = (naming: ChordNames["naming"]): ChordNames => ({
  naming,
  small: naming === "german" ? "minor" : "capital",
});

/**
 * The chords among the words above a staff. A letter alone counts only beside chords that are more than
 * that, or where the score has no others; letters in alphabetical order name sections.
 */
function chordsAbove(
  words: readonly UnreadText[],
  names: ChordNames,
  hasSymbols: boolean,
): { readonly chords: readonly ChordText[]; readonly unread: readonly UnreadText[] } {
  const read = words.flatMap((item): readonly ChordText[] => {
    const chords = chordsIn(item.text, names);
    return chords === undefined ? [] : [{ ...item, chords }];
  });
  const plain = read.filter(
    ({ text, chords }) => !isBare(text) && chords.some((chord) => chord !== "no-chord"),
  );
  const bare = read.filter(({ text }) => isBare(text));
  const capitals = bare.filter(({ text }) => /^[A-H]/.test(text)).map(({ text }) => text);
  const sections =
    capitals.length > 0 && areSections(capitals) && (hasSymbols || plain.length === 0 || capitals.length > 1);
  const areBareTaken = plain.length > 0 || (!hasSymbols && new Set(capitals).size > 1);
  const isTaken = ({ text }: ChordText) =>
    !isBare(text) || (areBareTaken && !(sections && /^[A-H]/.test(text)));
  const chords = read.filter(isTaken);
  const taken = new Set<XmlElement>(chords.map(({ element: direction }) => direction));
  // "f" and "a 2" are words of every score.
  const mayBeChord = ({ text }: UnreadText) =>
    isBare(text) ? (/^[A-H]$/.test(text) ? !sections : /^[abcdegh]$/.test(text)) : looksLikeChord(text);
  return { chords, unread: words.filter((item) => !taken.has(item.element) && mayBeChord(item)) };
}

/** The `<harmony>` that says what a text says. */
function harmonyFor(chord: ReadChord, source: XmlElement): XmlElement {
  const staff = source.name === "direction" ? childText(source, "staff") : undefined;
  const after = staff === undefined ? [] : [element("staff", {}, [staff])];
  if (chord === "no-chord")
    return element("harmony", {}, [
      element("root", {}, [element("root-step", { text: "" }, ["C"])]),
      element("kind", { text: "N.C." }, ["none"]),
      ...after,
    ]);
  const alter = (name: string, value: number) => (value === 0 ? [] : [element(name, {}, [value])]);
  const { root, kind, degrees, bass } = chord;
  return element("harmony", {}, [
    element("root", {}, [element("root-step", {}, [root.letter]), ...alter("root-alter", root.alter)]),
    element("kind", {}, [kind]),
    ...(bass === undefined
      ? []
      : [element("bass", {}, [element("bass-step", {}, [bass.letter]), ...alter("bass-alter", bass.alter)])]),
    ...degrees.map((degree) =>
      element("degree", {}, [
        element("degree-value", {}, [degree.value]),
        element("degree-alter", {}, [degree.alter]),
        element("degree-type", {}, [degree.type]),
      ]),
    ),
    ...after,
  ]);
}

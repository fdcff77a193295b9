import type { ChordNames } from "../../harmony/chord-names.js";
import { attributeOf, childrenNamed, elementsOf, textOf, type XmlElement } from "../../xml/xml-tree.js";
import type { WalkedNote, WalkedPart } from "../timeline/walked-part.js";
import { type ChordText, chordsIn, isBare, type UnreadText } from "./chord-words.js";

/** A line of syllables under the notes: a verse, or the chords. */
export interface LyricLine {
  readonly syllables: readonly Syllable[];
}

interface Syllable extends UnreadText {
  /** The name of the note it stands under: "C". */
  readonly note: string | undefined;
}

/** A line with more words than this among its chords is a verse. */
const SHARE_OF_CHORDS = 0.8;
/** Of the chords so many are more than a letter: "A" and "Do" are syllables of any song. */
const SHARE_OF_PLAIN_CHORDS = 0.2;

/** The lines of lyrics in a part, by number. */
export function lyricLines(part: WalkedPart): readonly LyricLine[] {
  const lines = new Map<string, Syllable[]>();
  for (const note of part.notes)
    for (const lyric of childrenNamed(note.element, "lyric")) {
      const text = textOfLyric(lyric);
      if (text === "") continue;
      const number = attributeOf(lyric, "number") ?? attributeOf(lyric, "name") ?? "1";
      const line = lines.get(number);
      if (line === undefined) lines.set(number, [syllable(note, lyric, text)]);
      else line.push(syllable(note, lyric, text));
    }
  return [...lines.values()].map((syllables) => ({ syllables }));
}

const syllable = (note: WalkedNote, lyric: XmlElement, text: string): Syllable => ({
  at: note.at,
  measure: note.measure,
  element: lyric,
  text,
  note: note.written?.letter,
});

/** Two syllables that share a note are two texts. */
const textOfLyric = (lyric: XmlElement): string =>
  elementsOf(lyric)
    .flatMap((piece) =>
      piece.name === "text" ? [textOf(piece).trim()] : piece.name === "elision" ? [" "] : [],
    )
    .join("")
    .trim();

/** The chords of a line and what among them is none; undefined where the line is a verse, or names the notes. */
export function chordsOfLine(
  { syllables }: LyricLine,
  names: ChordNames,
): { readonly chords: readonly ChordText[]; readonly unread: readonly UnreadText[] } | undefined {
  // Hardly any line is one of chords, and reading each syllable of a song as one takes long.
  const possible = syllables.filter(({ text }) => isMoreThanAName(text)).length;
  if (possible < SHARE_OF_CHORDS * SHARE_OF_PLAIN_CHORDS * syllables.length) return undefined;
  const chords = syllables.flatMap((item): readonly ChordText[] => {
    const read = chordsIn(item.text, names);
    return read === undefined ? [] : [{ ...item, chords: read }];
  });
  const plain = chords.filter(({ text }) => isMoreThanAName(text));
  const namesOfNotes = syllables.filter(({ text, note }) => text.slice(0, 1).toUpperCase() === note);
  const isLine =
    chords.length >= SHARE_OF_CHORDS * syllables.length &&
    plain.length > 0 &&
    plain.length >= SHARE_OF_PLAIN_CHORDS * chords.length &&
    new Set(chords.map(({ text }) => text)).size > 1 &&
    namesOfNotes.length < syllables.length;
  if (!isLine) return undefined;
  const taken = new Set(chords.map(({ element }) => element));
  return { chords, unread: syllables.filter(({ element }) => !taken.has(element)) };
}

/** Letters that are a name and nothing else are also words: "A", "Am", "Es", "Mi". */
const isMoreThanAName = (text: string): boolean =>
  !isBare(text) && (/[\d#/+\u266d\u266f]|maj|min|dim|aug|sus/.test(text) || /^[A-H]b?m$/.test(text));

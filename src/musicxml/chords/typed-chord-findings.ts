import type { Finding, Place } from "../../diagnostics.js";
import type { ChordNames } from "../../harmony/chord-names.js";
import { listed } from "../../listed.js";
import type { ChordText } from "./chord-words.js";

/** As many texts as one line can hold; the rest are counted. */
const MOST_LISTED = 12;

/** Enough to see what kind of text it is. */
const MOST_SHOWN = 4;

const NAMINGS: Readonly<Record<ChordNames["naming"], string>> = {
  english: "",
  german: " with German names (H is B natural, B is B flat)",
  italian: " with Italian names (Do is C, La is A)",
};

export function chordTextsRead(texts: readonly ChordText[], names: ChordNames, place: Place): Finding {
  const count = texts.reduce((sum, { chords }) => sum + chords.length, 0);
  const chords = count === 1 ? "One chord stands" : `${count} chords stand`;
  const inLyrics = texts.filter(({ element }) => element.name === "lyric").length;
  const where =
    inLyrics === 0
      ? "as text above the staff"
      : inLyrics === texts.length
        ? "among the lyrics"
        : "as text above the staff and among the lyrics";
  const [some, rest] = [texts.slice(0, MOST_SHOWN), texts.slice(MOST_SHOWN)];
  const shown = `${some.map(({ text }) => shortened(text)).join(", ")}${rest.length > 0 ? " \u2026" : ""}`;
  const hasSmall = names.small === "minor" && texts.some(({ text }) => /(?:^|[\s|(])[a-h]/.test(text));
  const how = `${NAMINGS[names.naming]}${hasSmall ? `${names.naming === "english" ? " with" : " and"} small letters for minor` : ""}`;
  return {
    rule: "chord-text-read",
    severity: "warning",
    place,
    found: `${count} chord${count === 1 ? "" : "s"} ${where}`,
    expected: "chord symbols",
    message: `${chords} ${where} (${shown}), not as ${count === 1 ? "a chord symbol" : "chord symbols"}; ${count === 1 ? "it was" : "they were"} read as ${count === 1 ? "one" : "such"}${how}.`,
    ...(how === "" ? {} : { hint: "The option chord-names says which names to read." }),
  };
}

export function chordTextsUnread(
  texts: readonly { readonly text: string; readonly measure: number }[],
  place: Place,
): Finding {
  const found = listed(
    texts.map(({ text, measure }) => `"${shortened(text)}" in measure ${measure}`),
    MOST_LISTED,
  );
  return {
    rule: "chord-text-unread",
    severity: "warning",
    place,
    found,
    expected: "chord names such as Am7, Bb or F#m7b5",
    message: `Text that may be chords was not taken for any: ${found}.`,
    hint: "Enter them as chord symbols if they are chords; the chord before goes on under them.",
  };
}

const shortened = (text: string): string => {
  const plain = text.replace(/\s+/g, " ");
  return plain.length > 20 ? `${plain.slice(0, 19)}…` : plain;
};

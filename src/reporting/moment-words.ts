import type { AlternativeReport, EventReport } from "./event-report.js";
import { momentText } from "./summary.js";

/** Degrees as they are said. */
const NUMBERS: Readonly<Record<string, string>> = {
  "1": "root",
  "2": "second",
  "3": "third",
  "4": "fourth",
  "5": "fifth",
  "6": "sixth",
  "7": "seventh",
  "9": "ninth",
  "11": "eleventh",
  "13": "thirteenth",
};

const SIGNS: Readonly<Record<string, string>> = {
  b: "flat ",
  bb: "double flat ",
  "#": "sharp ",
  "##": "double sharp ",
};

/** "b3" as "flat third", "1" as "root"; what is no degree as it stands. */
export function degreeInWords(degree: string): string {
  const [, sign = "", number = ""] = /^(b{0,2}|#{0,2})(\d+)$/.exec(degree) ?? [];
  const name = NUMBERS[number];
  return name === undefined ? degree : `${SIGNS[sign] ?? ""}${name}`;
}

/** What follows the root of a chord's text, as it is said; longer ones first. Common practice. */
const QUALITIES: readonly (readonly [text: string, words: string])[] = [
  ["m(maj7)", "minor, major seventh"],
  ["maj13", "major thirteenth"],
  ["maj11", "major eleventh"],
  ["maj9", "major ninth"],
  ["maj7", "major seventh"],
  ["m7b5", "half diminished"],
  ["dim7", "diminished seventh"],
  ["dim", "diminished"],
  ["sus4", " suspended fourth"],
  ["sus2", " suspended second"],
  ["m13", "minor thirteenth"],
  ["m11", "minor eleventh"],
  ["m9", "minor ninth"],
  ["m7", "minor seventh"],
  ["m6", "minor sixth"],
  ["+7", "augmented seventh"],
  ["6/9", "six nine"],
  ["13", "thirteenth"],
  ["11", "eleventh"],
  ["9", "ninth"],
  ["7", "seventh"],
  ["6", "sixth"],
  ["m", "minor"],
  ["+", "augmented"],
];

/** "Gm7" as "G minor seventh", "Bb" as "B flat", "C/E" as "C over E". */
export function chordInWords(chord: string): string {
  const [, root = "", rest = ""] = /^([A-G](?:bb|b|##|#)?)(.*)$/.exec(chord) ?? [];
  if (root === "") return chord;
  const [, body = "", bass] = /^(.*?)(?:\/([A-G](?:bb|b|##|#)?))?$/.exec(rest) ?? [];
  const quality = QUALITIES.find(([text]) => body.startsWith(text));
  const tail = quality === undefined ? body : body.slice(quality[0].length);
  const altered = [...tail.matchAll(/[b#]*\d+|[a-z]+/g)].map(([piece]) =>
    piece.replace(/^[b#]+/, (sign) => SIGNS[sign] ?? sign),
  );
  const words = [noteInWords(root), quality?.[1].trim(), ...altered].filter((piece) => piece !== undefined);
  return `${words.join(" ")}${bass === undefined ? "" : ` over ${noteInWords(bass)}`}`;
}

/** "Eb5" as "E flat 5". */
export const noteInWords = (name: string): string =>
  name.replace(/^([A-G])(b+|#+)?(-?\d*)$/, (_whole, letter: string, sign = "", octave = "") =>
    `${letter} ${(SIGNS[sign] ?? "").trim()} ${octave}`.replace(/\s+/g, " ").trim(),
  );

/**
 * A moment as a person says it: "G minor seventh, flat third on top, third fret", with where the hand is by the
 * lowest fret that is stopped.
 */
export function momentInWords(event: EventReport): string {
  const { chord, melody, melodyDegree } = event;
  const top =
    melody === undefined
      ? "the melody rests"
      : melodyDegree === undefined
        ? noteInWords(melody)
        : `${degreeInWords(melodyDegree)} on top, ${noteInWords(melody)}`;
  return [chord === undefined ? "no chord" : chordInWords(chord), top, wayInWords(event)].join(", ");
}

/** How it is played and where: "struck at the third fret". */
export function wayInWords({ attack, notes }: Pick<AlternativeReport, "attack" | "notes">): string {
  const stopped = notes.map(({ fret }) => fret).filter((fret) => fret > 0);
  const where =
    notes.length === 0
      ? "nothing sounds"
      : stopped.length === 0
        ? "open strings"
        : `${ordinal(Math.min(...stopped))} fret`;
  return `${ATTACKS[attack]}, ${where}`;
}

const ATTACKS: Readonly<Record<EventReport["attack"], string>> = {
  struck: "struck with its chord",
  held: "over the chord that rings on",
  single: "alone",
  under: "chord struck under it",
};

/** "measure 3, beat 2: ..." */
export const momentAndPlaceInWords = (event: EventReport): string =>
  `${momentText(event)}: ${momentInWords(event)}`;

const ORDINALS = ["", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth"];
const ENDINGS = ["th", "st", "nd", "rd"];
const ordinal = (number: number): string =>
  ORDINALS[number] ?? `${number}${number > 20 ? (ENDINGS[number % 10] ?? "th") : "th"}`;

import type { ChordSymbol, DegreeChange } from "../song/chord-symbol.js";
import { nameOf } from "../song/pitch.js";

/** The kinds of MusicXML 4.0 as lead sheets print them after the root. Common practice. */
const KIND_TEXTS: Readonly<Record<string, string>> = {
  major: "",
  minor: "m",
  augmented: "+",
  diminished: "dim",
  dominant: "7",
  "major-seventh": "maj7",
  "minor-seventh": "m7",
  "diminished-seventh": "dim7",
  "augmented-seventh": "+7",
  "half-diminished": "m7b5",
  "major-minor": "m(maj7)",
  "major-sixth": "6",
  "minor-sixth": "m6",
  "dominant-ninth": "9",
  "major-ninth": "maj9",
  "minor-ninth": "m9",
  "dominant-11th": "11",
  "major-11th": "maj11",
  "minor-11th": "m11",
  "dominant-13th": "13",
  "major-13th": "maj13",
  "minor-13th": "m13",
  "suspended-second": "sus2",
  "suspended-fourth": "sus4",
  Neapolitan: "(Neapolitan)",
  Italian: "(Italian)",
  French: "(French)",
  German: "(German)",
  pedal: "(pedal)",
  power: "5",
  Tristan: "(Tristan)",
  other: "(other)",
};

/** Chords that MusicXML writes as a kind with degrees and lead sheets print with a text of their own. */
const TEXTS_WITH_DEGREES: readonly { kind: string; degrees: readonly string[]; text: string }[] = [
  { kind: "suspended-fourth", degrees: ["add 7", "add 9", "add 13"], text: "13sus4" },
  { kind: "suspended-fourth", degrees: ["add 7", "add 9"], text: "9sus4" },
  { kind: "suspended-fourth", degrees: ["add 7"], text: "7sus4" },
  { kind: "suspended-second", degrees: ["add 7"], text: "7sus2" },
  { kind: "dominant", degrees: ["add 4", "subtract 3"], text: "7sus4" },
  { kind: "dominant-ninth", degrees: ["add 4", "subtract 3"], text: "9sus4" },
  { kind: "dominant-13th", degrees: ["add 4", "subtract 3"], text: "13sus4" },
  { kind: "minor-seventh", degrees: ["alter b5"], text: "m7b5" },
  { kind: "half-diminished", degrees: ["alter #5"], text: "m7" },
  { kind: "diminished-seventh", degrees: ["alter #7"], text: "m7b5" },
  { kind: "dominant", degrees: ["alter #5"], text: "+7" },
  { kind: "major", degrees: ["add 7"], text: "7" },
  { kind: "major", degrees: ["add #7"], text: "maj7" },
  { kind: "minor", degrees: ["add 7"], text: "m7" },
  { kind: "minor", degrees: ["add #7"], text: "m(maj7)" },
  { kind: "major-minor", degrees: ["alter 7"], text: "m(maj7)" },
  { kind: "major-sixth", degrees: ["add 9"], text: "6/9" },
  { kind: "minor-sixth", degrees: ["add 9"], text: "m6/9" },
];

/** A chord symbol in short text, as lead sheets print it: Cm7, F#m7b5, Bb7(b9)/D. */
export function chordName(symbol: ChordSymbol): string {
  const bass = symbol.bass === undefined ? "" : `/${nameOf(symbol.bass)}`;
  return `${nameOf(symbol.root)}${kindText(symbol.kind, symbol.degrees)}${bass}`;
}

function kindText(kind: string, degrees: readonly DegreeChange[]): string {
  const words = degrees.map(degreeWord);
  // The longest entry comes first in the table, so 13sus4 is not read as 7sus4 with additions.
  const known = TEXTS_WITH_DEGREES.find(
    (entry) => entry.kind === kind && entry.degrees.every((word) => words.includes(word)),
  );
  const text = known?.text ?? KIND_TEXTS[kind] ?? `(${kind})`;
  const rest = degrees.filter((degree) => known?.degrees.includes(degreeWord(degree)) !== true);
  return rest.length === 0 ? text : `${text}(${rest.map(degreeText).join(",")})`;
}

const accidental = (alter: number): string => (alter < 0 ? "b".repeat(-alter) : "#".repeat(alter));

const degreeWord = ({ type, value, alter }: DegreeChange): string => `${type} ${accidental(alter)}${value}`;

/** An altered tone needs no word of its own; a plain addition and an omission do. */
function degreeText({ type, value, alter }: DegreeChange): string {
  if (type === "subtract") return `no${value}`;
  // "add" counts from a dominant chord, whose seventh is minor: raised by one it is the major seventh.
  if (type === "add" && value === 7 && alter === 1) return "maj7";
  if (alter === 0 && type === "add") return `add${value}`;
  return `${accidental(alter)}${value}`;
}

import { readFileSync } from "node:fs";
import { chordParserFactory } from "chord-symbol";
import { Chord } from "tonal";
import { describe, expect, test } from "vitest";
import { CHORD_KINDS } from "../../src/harmony/chord-kinds.js";
import { chordOf, degreesOf } from "../../src/harmony/chord-tones.js";
import type { ChordSymbol, DegreeChange } from "../../src/song/chord-symbol.js";
import { mod12 } from "../../src/song/pitch.js";
import { isSharedHere, SHARED } from "../support/shared.js";

const onC = (kind: string, ...degrees: DegreeChange[]): ChordSymbol => ({
  root: { letter: "C", alter: 0 },
  kind,
  degrees,
  bass: undefined,
});
const semitones = (symbol: ChordSymbol) => degreesOf(symbol).map((degree) => degree.semitones);
const classes = (symbol: ChordSymbol) => [...new Set(semitones(symbol).map(mod12))].sort((a, b) => a - b);

describe.skipIf(!isSharedHere)("every kind has the tones that the W3C page states", () => {
  const kinds = isSharedHere
    ? (JSON.parse(readFileSync(`${SHARED}standards/kinds.json`, "utf8")) as Record<
        string,
        { semitones: number[] | null }
      >)
    : {};
  const stated = Object.entries(kinds).filter(([, entry]) => entry.semitones !== null);
  test("there are 26 of them", () => expect(stated).toHaveLength(26));
  test.each(stated)("%s", (kind, entry) => {
    expect(semitones(onC(kind))).toEqual(entry.semitones);
  });
});

// An independent reading of the same symbols: the chord dictionary of tonal and the parser chord-symbol,
// neither of which the project asks about chords.
const COMMON: readonly (readonly [text: string, symbol: ChordSymbol])[] = [
  ["C", onC("major")],
  ["Cm", onC("minor")],
  ["Caug", onC("augmented")],
  ["Cdim", onC("diminished")],
  ["C7", onC("dominant")],
  ["Cmaj7", onC("major-seventh")],
  ["Cm7", onC("minor-seventh")],
  ["Cdim7", onC("diminished-seventh")],
  ["C7#5", onC("augmented-seventh")],
  ["Cm7b5", onC("half-diminished")],
  ["CmMaj7", onC("major-minor")],
  ["C6", onC("major-sixth")],
  ["Cm6", onC("minor-sixth")],
  ["C9", onC("dominant-ninth")],
  ["Cmaj9", onC("major-ninth")],
  ["Cm9", onC("minor-ninth")],
  ["Csus2", onC("suspended-second")],
  ["Csus4", onC("suspended-fourth")],
  ["C7b5", onC("dominant", { type: "alter", value: 5, alter: -1 })],
  ["C7b9", onC("dominant", { type: "add", value: 9, alter: -1 })],
  ["C7#9", onC("dominant", { type: "add", value: 9, alter: 1 })],
  ["C7#11", onC("dominant", { type: "add", value: 11, alter: 1 })],
  ["C7sus4", onC("suspended-fourth", { type: "add", value: 7, alter: 0 })],
  ["C6add9", onC("major-sixth", { type: "add", value: 9, alter: 0 })],
  ["Cmaj7#11", onC("major-seventh", { type: "add", value: 11, alter: 1 })],
];

const parseElsewhere = chordParserFactory();

test.each(COMMON)("%s has the tones that tonal's dictionary gives it", (text, symbol) => {
  const known = Chord.get(text.replace("C6add9", "C6/9").replace("Caug", "C+"));
  expect(known.empty).toBe(false);
  const theirs = known.notes.map((note) => note.replace("Cb", "B"));
  expect(theirs.length).toBeGreaterThan(2);
  const theirClasses = known.intervals.map((interval) => classOfInterval(interval));
  expect(classes(symbol)).toEqual([...new Set(theirClasses)].sort((a, b) => a - b));
});

test.each(COMMON)("%s has the tones that the parser chord-symbol gives it", (text, symbol) => {
  const parsed = parseElsewhere(text);
  if (!("normalized" in parsed)) throw new Error(`chord-symbol does not read ${text}`);
  expect(classes(symbol)).toEqual([...new Set(parsed.normalized.semitones.map(mod12))].sort((a, b) => a - b));
});

/** "5A" and the like to a pitch class above C. */
function classOfInterval(interval: string): number {
  const [, number, quality] = /^(\d+)([PMmAd]+)$/.exec(interval) ?? [];
  const step = (Number(number) - 1) % 7;
  const isPerfect = [0, 3, 4].includes(step);
  const natural = [0, 2, 4, 5, 7, 9, 11][step] ?? 0;
  const shift: Record<string, number> = isPerfect ? { P: 0, A: 1, d: -1 } : { M: 0, m: -1, A: 1, d: -2 };
  return mod12(natural + (shift[quality ?? ""] ?? 0));
}

describe("degrees change a chord as the W3C pages for <degree> say", () => {
  const change = (type: DegreeChange["type"], value: number, alter: number): DegreeChange => ({
    type,
    value,
    alter,
  });
  test.each([
    ["an added seventh is minor, whatever the chord", onC("major", change("add", 7, 0)), [0, 4, 7, 10]],
    ["an added seventh raised by one is major", onC("minor", change("add", 7, 1)), [0, 3, 7, 11]],
    [
      "an altered degree counts from the chord's own",
      onC("half-diminished", change("alter", 5, 1)),
      [0, 3, 7, 10],
    ],
    ["an altered bb7 raised by one is b7", onC("diminished-seventh", change("alter", 7, 1)), [0, 3, 6, 10]],
    [
      "an altered degree that is not there is added",
      onC("dominant", change("alter", 11, 1)),
      [0, 4, 7, 10, 18],
    ],
    ["a subtracted third leaves a fifth", onC("major", change("subtract", 3, 0)), [0, 7]],
    [
      "third out and fourth in is suspended",
      onC("major", change("subtract", 3, 0), change("add", 4, 0)),
      [0, 5, 7],
    ],
    ["a seventh printed again changes nothing", onC("major-minor", change("add", 7, 0)), [0, 3, 7, 11]],
    [
      "both ninths of an altered dominant stay",
      onC("dominant", change("add", 9, -1), change("add", 9, 1)),
      [0, 4, 7, 10, 13, 15],
    ],
  ])("%s", (_, symbol, expected) => {
    expect(semitones(symbol)).toEqual(expected);
  });
});

describe("tones are spelled by their degree", () => {
  const spelled = (root: "G" | "C" | "D", alter: number, kind: string, ...degrees: DegreeChange[]) =>
    chordOf({ root: { letter: root, alter }, kind, degrees, bass: undefined }).tones.map(
      ({ name }) => name.letter + (name.alter < 0 ? "b".repeat(-name.alter) : "#".repeat(name.alter)),
    );
  test("a raised ninth over G is A sharp", () => {
    expect(spelled("G", 0, "dominant", { type: "add", value: 9, alter: 1 })).toEqual([
      "G",
      "B",
      "D",
      "F",
      "A#",
    ]);
  });
  test("the seventh of C dim7 is B double flat", () => {
    expect(spelled("C", 0, "diminished-seventh")).toEqual(["C", "Eb", "Gb", "Bbb"]);
  });
  test("no tone carries more than two accidentals", () => {
    expect(spelled("C", -1, "diminished-seventh")).toEqual(["Cb", "Ebb", "Gbb", "Ab"]);
  });
});

test("the table of kinds holds every kind value but none", () => {
  expect(Object.keys(CHORD_KINDS)).toHaveLength(32);
});

import { describe, expect, test } from "vitest";
import { Findings, ScoreError } from "../../src/diagnostics.js";
import { withOneTune } from "../../src/musicxml/lead-sheet/several-tunes.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { printXml } from "../../src/xml/print-xml.js";
import { runInMemory } from "../support/outside-in-memory.js";
import { readText } from "../support/reading.js";
import { type Bar, harmony, note, score } from "../support/score-text.js";
import { melodyText } from "../support/tune-text.js";

const END = '<barline location="right"><bar-style>light-heavy</bar-style></barline>';
const REPEAT =
  '<barline location="right"><bar-style>light-heavy</bar-style><repeat direction="backward"/></barline>';
const head = (fifths: number, beats: number) =>
  `<attributes><divisions>4</divisions><key><fifths>${fifths}</fifths></key><time><beats>${beats}</beats><beat-type>4</beat-type></time></attributes>`;

/** Three invented tunes: in C, again in C with nothing stated anew, in F and three to a bar. */
const SHELF: readonly Bar[] = [
  head(0, 4) + harmony("C") + note("C5", 16),
  note("D5", 16) + END,
  harmony("G") + note("G4", 16) + END,
  head(-1, 3) + harmony("F") + note("A4", 12),
  note("Bb4", 12) + END,
];

const taken = (number: number, bars = SHELF) => {
  const findings = new Findings();
  const text = printXml(withOneTune(parseXml(score([{ bars }])), number, findings));
  return { text, reading: readText(text), said: findings.all.map(({ message }) => message) };
};

describe("A file with several tunes", () => {
  test("is read as one, which is said with where each of them is", () => {
    const { reading } = taken(0);
    expect(reading.tune.measures).toHaveLength(5);
    expect(reading.findings.all.map(({ message }) => message)).toEqual([
      "A final barline stands before the end: the file may hold 3 tunes, in measures 1 to 2, 3 and 4 to 5. It was read as one.",
    ]);
  });

  test("gives the one that is asked for, with all that is in force where it begins", () => {
    expect(melodyText(taken(1).reading.tune)).toEqual(["1:1 C5 4", "2:1 D5 4"]);
    const second = taken(2);
    expect(melodyText(second.reading.tune)).toEqual(["1:1 G4 4"]);
    expect(second.text).toContain("<divisions>4</divisions><key><fifths>0</fifths></key><time>");
    expect(second.said).toEqual([
      "Of the 3 tunes in the file, in measures 1 to 2, 3 and 4 to 5, number 2 was taken; measures are counted from its start.",
    ]);
    const third = taken(3);
    expect(melodyText(third.reading.tune)).toEqual(["1:1 A4 3", "2:1 Bb4 3"]);
    expect(third.reading.tune.keys).toMatchObject([{ at: 0, fifths: -1 }]);
    expect(third.text.match(/<attributes>/g)).toHaveLength(1);
  });

  test("has no more tunes than it has", () => {
    expect(() => taken(4)).toThrow(ScoreError);
    expect(() => taken(4)).toThrow(
      "There is no tune 4 in the file; it holds 3, in measures 1 to 2, 3 and 4 to 5.",
    );
    expect(() => taken(2, [SHELF[0] ?? ""])).toThrow("There is no tune 2 in the file; it holds one.");
  });

  test("tells a repeat within a tune from the end of one by the measures' numbers", () => {
    const bars = (label: string): readonly Bar[] => [
      { number: "1", inner: head(0, 4) + harmony("C") + note("C5", 16) + REPEAT },
      { number: label, inner: harmony("D") + note("D5", 16) },
    ];
    expect(taken(0, bars("2")).reading.findings.all).toEqual([]);
    expect(melodyText(taken(2, bars("1")).reading.tune)).toEqual(["1:1 D5 4"]);
  });
});

test("arranging a score again that was made from one tune of a shelf takes it as it is", async () => {
  const shelf = { "shelf.musicxml": score([{ bars: SHELF }]) };
  const first = await runInMemory(["arrange", "shelf.musicxml", "-o", "a.musicxml", "--tune", "2"], shelf);
  expect(first.status, first.errors).toBe(0);
  const made = first.files.get("a.musicxml") ?? "";
  const again = await runInMemory(["arrange", "a.musicxml", "-o", "b.musicxml", "--tune", "2"], {
    "a.musicxml": made,
  });
  expect(again.status, again.errors).toBe(0);
  expect(again.files.get("b.musicxml")).toEqual(made);
}, 60_000);

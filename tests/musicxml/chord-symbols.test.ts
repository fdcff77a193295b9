import { describe, expect, test } from "vitest";
import { ScoreError } from "../../src/diagnostics.js";
import { childNamed, childText, everyNamed } from "../../src/xml/xml-tree.js";
import { readText } from "../support/reading.js";
import { attributes, FOUR_FOUR, harmony, leadSheet, note, score } from "../support/score-text.js";
import { chordText } from "../support/tune-text.js";
import { firstPart, writtenScore } from "../support/written-score.js";

const G4 = note("G4", 16);
const chord = (xml: string) => chordText(readText(leadSheet(xml + G4)).tune)[0]?.replace("1:1 ", "");
const rules = (xml: string) => readText(leadSheet(xml + G4)).findings.all.map(({ rule }) => rule);
const withText = (kind: string, text: string) =>
  `<harmony><root><root-step>C</root-step></root><kind text="${text}">${kind}</kind></harmony>`;
const degree = (type: string, value: number, alter: number | undefined) =>
  `<degree><degree-value>${value}</degree-value>${alter === undefined ? "" : `<degree-alter>${alter}</degree-alter>`}<degree-type>${type}</degree-type></degree>`;

test("under N.C. there is no chord, whatever root stands in the file", () => {
  expect(
    chord('<harmony><root><root-step text="">C</root-step></root><kind text="N.C.">none</kind></harmony>'),
  ).toBe("N.C.");
  expect(chord("<harmony><root><root-step>C</root-step></root><kind>none</kind></harmony>")).toBe("N.C.");
});

test("the root is what the element holds, not its text attribute", () => {
  expect(chord('<harmony><root><root-step text="Q">D</root-step></root><kind>minor</kind></harmony>')).toBe(
    "D minor",
  );
});

test.each([
  ["H", "B"],
  ["g", "G"],
  ["Bb", "Bb"],
  ["f#", "F#"],
  ["Es", "Eb"],
  ["A♭", "Ab"],
])("a root of %j is read as %s, said, and written as MusicXML has it", (step, root) => {
  const xml = leadSheet(
    `<harmony><root><root-step>${step}</root-step></root><kind>minor</kind><bass><bass-step>${step}</bass-step></bass></harmony>${G4}`,
  );
  expect(chordText(readText(xml).tune)).toEqual([`1:1 ${root} minor/${root}`]);
  expect(readText(xml).findings.all.map(({ rule }) => rule)).toEqual(["chord-root-spelled"]);
  const [symbol] = everyNamed(firstPart(writtenScore(xml)), "harmony");
  const written = symbol && childNamed(symbol, "root");
  expect([written && childText(written, "root-step"), written && childText(written, "root-alter")]).toEqual([
    root.slice(0, 1),
    root.endsWith("b") ? "-1" : root.endsWith("#") ? "1" : undefined,
  ]);
});

test("a root printed with its whole chord, and no kind, is that chord", () => {
  expect(chord('<harmony><root><root-step text="Gm7">G</root-step></root><kind/></harmony>')).toBe(
    "G minor-seventh",
  );
});

test("blanks and line ends around an alteration do not matter", () => {
  expect(
    chord(
      "<harmony><root><root-step>\n B </root-step><root-alter>\n-1\n</root-alter></root><kind> major </kind></harmony>",
    ),
  ).toBe("Bb major");
});

describe("A kind that MusicXML does not have", () => {
  test.each([
    ["min7", "m7", "C minor-seventh"],
    ["augmented-ninth", "9+", "C dominant-ninth alter #5"],
    ["minor-major", "mMaj7", "C major-minor"],
    ["maj69", "69", "C major-sixth add 9"],
    ["", "△7", "C major-seventh"],
    ["dominant-flat-ninth", "", "C dominant add b9"],
    ["augmented-ninth", "", "C dominant-ninth alter #5"],
    ["minor-major", "", "C major-minor"],
    ["maj69", "", "C major-sixth add 9"],
    ["m7b5", "", "C half-diminished"],
    ["maj", "", "C major"],
    ["major-minor-seventh", "", "C dominant"],
    ["minor-6", "", "C minor-sixth"],
    ["diminished-triad", "", "C diminished"],
    ["dominant-suspended-fourth", "", "C suspended-fourth add 7"],
    ["augmented-dominant", "", "C augmented-seventh"],
    ["power-chord", "", "C power"],
    ["", "Cm7", "C minor-seventh"],
    ["other", "7sus4", "C suspended-fourth add 7"],
    ["other", "Cm7", "C minor-seventh"],
  ])("%j printed %j is read as %s", (kind, text, expected) => {
    expect(chord(withText(kind, text))).toBe(expected);
    expect(rules(withText(kind, text))).toEqual(["chord-kind-unlisted"]);
  });

  test("that is a word for no chord is none", () => {
    expect(chord(withText("N.C.", ""))).toBe("N.C.");
  });

  test("that says nothing gives root and fifth, with a warning", () => {
    expect(chord(withText("mystery", ""))).toBe("C other add 5");
    expect(rules(withText("mystery", ""))).toEqual(["chord-kind-unusable"]);
    expect(chord(withText("", ""))).toBe("C other add 5");
  });
});

test("where text and value disagree the value counts, with a warning", () => {
  expect(chord(withText("dominant", "maj7"))).toBe("C dominant");
  expect(rules(withText("dominant", "maj7"))).toEqual(["chord-text-disagrees"]);
  expect(rules(withText("dominant", "7"))).toEqual([]);
});

test("text that names the degrees, or leaves them out, agrees with its value", () => {
  const altered = (text: string) =>
    `<harmony><root><root-step>C</root-step></root><kind text="${text}">dominant</kind>${degree("add", 9, -1)}</harmony>`;
  expect(rules(altered("7b9"))).toEqual([]);
  expect(rules(altered("7"))).toEqual([]);
});

test("degrees come through as they stand, a missing alteration as none", () => {
  expect(chord(harmony("C", "dominant", degree("alter", 11, 1)))).toBe("C dominant alter #11");
  expect(chord(harmony("C", "major", degree("add", 9, undefined)))).toBe("C major add 9");
});

test("a degree that cannot be is left out, with a warning", () => {
  expect(chord(harmony("C", "major", degree("add", 15, 0)))).toBe("C major");
  expect(rules(harmony("C", "major", degree("add", 15, 0)))).toEqual(["chord-degree"]);
});

test("a stated bass goes before the inversion, and the inversion alone gives the bass", () => {
  const bass = "<bass><bass-step>C</bass-step></bass>";
  expect(chord(harmony("A", "minor", `<inversion>2</inversion>${bass}`))).toBe("A minor/C");
  expect(chord(harmony("A", "minor", "<inversion>2</inversion>"))).toBe("A minor/E");
  expect(chord(harmony("A", "minor", "<inversion>0</inversion>"))).toBe("A minor");
  expect(
    chord(harmony("C", "major", "<bass><bass-step>B</bass-step><bass-alter>-1</bass-alter></bass>")),
  ).toBe("C major/Bb");
});

test("of several chords in one symbol the first is harmonised, with a warning", () => {
  const two =
    "<harmony><root><root-step>C</root-step></root><kind>major</kind><root><root-step>D</root-step></root><kind>minor</kind></harmony>";
  expect(chord(two)).toBe("C major");
  expect(rules(two)).toEqual(["polychord"]);
});

describe("Roman numerals", () => {
  const numeral = (root: number, alter = "", kind = "major") =>
    `<harmony><numeral><numeral-root>${root}</numeral-root>${alter}</numeral><kind>${kind}</kind></harmony>`;
  const inKey = (fifths: number, mode: string, symbol: string) =>
    chordText(
      readText(
        score([
          {
            bars: [
              attributes(`<key><fifths>${fifths}</fifths><mode>${mode}</mode></key>${FOUR_FOUR}`) +
                symbol +
                G4,
            ],
          },
        ]),
      ).tune,
    )[0];

  test("name a chord by the key", () => {
    expect(inKey(2, "major", numeral(5, "", "dominant"))).toBe("1:1 A dominant");
    expect(inKey(-3, "minor", numeral(3))).toBe("1:1 Eb major");
    expect(inKey(-1, "major", numeral(4))).toBe("1:1 Bb major");
    expect(inKey(0, "major", numeral(7, "<numeral-alter>-1</numeral-alter>"))).toBe("1:1 Bb major");
  });

  test("a function without a root is skipped, with a warning", () => {
    const xml = leadSheet(
      `<harmony><function>IV</function><kind>major</kind></harmony>${note("G4", 8)}${harmony("C")}${note("E4", 8)}`,
    );
    expect(chordText(readText(xml).tune)).toEqual(["1:3 C major"]);
    expect(readText(xml).findings.all.map(({ rule }) => rule)).toEqual(["chord-function"]);
  });

  test("functions alone are no chord symbols", () => {
    const xml = leadSheet(`<harmony><function>IV</function><kind>major</kind></harmony>${G4}`);
    expect(() => readText(xml)).toThrow(ScoreError);
    expect(() => readText(xml)).toThrow(/chord symbols/);
  });
});

test("a chord diagram decides nothing about the chord", () => {
  const frame =
    "<frame><frame-strings>6</frame-strings><frame-frets>4</frame-frets><first-fret>3</first-fret><frame-note><string>5</string><fret>3</fret></frame-note></frame>";
  expect(chord(harmony("C", "minor", frame))).toBe("C minor");
});

test("a score without any chord symbols says what to do", () => {
  try {
    readText(leadSheet(G4));
    expect.unreachable();
  } catch (error) {
    expect(error).toBeInstanceOf(ScoreError);
    expect((error as ScoreError).finding.rule).toBe("no-chord-symbols");
    const { message, hint } = (error as ScoreError).finding;
    expect(message).toBe(
      "There are no chords in the score: no chord symbols, and no text above the staff or among the lyrics that reads as chords.",
    );
    expect(hint).toBe("Enter them as chord symbols in your notation program and export again.");
  }
});

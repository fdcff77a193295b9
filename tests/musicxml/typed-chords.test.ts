import { describe, expect, test } from "vitest";
import type { ScoreError } from "../../src/diagnostics.js";
import { attributeOf, childrenNamed, everyNamed, textOf } from "../../src/xml/xml-tree.js";
import { readText } from "../support/reading.js";
import { attributes, FOUR_FOUR, harmony, leadSheet, note, score } from "../support/score-text.js";
import { chordText } from "../support/tune-text.js";
import { firstPart, writtenScore } from "../support/written-score.js";

const G4 = note("G4", 16);
const words = (text: string, more = 'placement="above"', look = "") =>
  `<direction ${more}><direction-type><words${look}>${text}</words></direction-type></direction>`;
const bars = (...texts: readonly string[]) => leadSheet(...texts.map((text) => words(text) + G4));
const chords = (xml: string, names?: "english" | "german" | "italian") =>
  chordText(readText(xml, "auto", names).tune).map((chord) => chord.replace(/^\d+:1 /, ""));
const said = (xml: string) => readText(xml).findings.all.map(({ rule, message }) => `${rule}: ${message}`);
/** A bar in which real chord symbols make the sheet a mixed one. */
const mixed = (...texts: readonly string[]) =>
  leadSheet(harmony("C") + G4, ...texts.map((text) => words(text) + G4));

describe("Text above the staff", () => {
  test("is read as chord symbols where there are no others, and said", () => {
    const xml = leadSheet(
      `${words("Swing")}${words("F♯m7♭5")}${note("G4", 8)}${words("Bb/D")}${note("A4", 8)}`,
      `${words("N.C.")}${G4}`,
    );
    const { tune, source } = readText(xml);
    expect(chordText(tune)).toEqual(["1:1 F# half-diminished", "1:3 Bb major/D", "2:1 N.C."]);
    expect(source.measures[0]?.directions).toHaveLength(1);
    expect(source.measures[0]?.harmonies).toHaveLength(2);
    expect(said(xml)).toEqual([
      "chord-text-read: 3 chords stand as text above the staff (F♯m7♭5, Bb/D, N.C.), not as chord symbols; they were read as such.",
    ]);
  });

  test("counts beside real chord symbols as well", () => {
    expect(chords(mixed("Dm7(b5)", "G7(b9)"))).toEqual(["C major", "D half-diminished", "G dominant add b9"]);
    expect(chords(leadSheet(harmony("C") + G4, words("N.C.") + G4, harmony("F") + G4))).toEqual([
      "C major",
      "N.C.",
      "F major",
    ]);
  });

  test("gives way to a real chord symbol on the same beat", () => {
    const xml = leadSheet(`${harmony("C")}${words("Dm7")}${G4}`, words("G7") + G4);
    expect(chords(xml)).toEqual(["C major", "G dominant"]);
  });

  test.each([
    ["C  Am", ["1:1 C major", "1:3 A minor"]],
    ["C | Am", ["1:1 C major", "1:3 A minor"]],
    ["Bb-Bdim-Cm7-F7", ["1:1 Bb major", "1:2 B diminished", "1:3 C minor-seventh", "1:4 F dominant"]],
    ["A7D7", ["1:1 A dominant", "1:3 D dominant"]],
  ])("%j names chords one after another, spread over their note", (text, expected) => {
    expect(chordText(readText(leadSheet(words(text) + G4)).tune)).toEqual(expected);
  });

  test.each([
    ["G7 (hold)", "G dominant"],
    ["(Am)", "A minor"],
    ["[Bb7]", "Bb dominant"],
    ["Gmi.", "G minor"],
    ["Dm 7", "D minor-seventh"],
    ["Eb 7/Bb", "Eb dominant/Bb"],
    ["C (maj7)", "C major-seventh"],
  ])("%j is one chord", (text, expected) => {
    expect(chords(leadSheet(words(text) + G4))).toEqual([expected]);
  });

  test("below the staff, in a frame, or as letters in alphabetical order is no chord", () => {
    const noChords = /There are no chords/;
    expect(() => readText(leadSheet(words("Dm7", 'placement="below"') + G4))).toThrow(noChords);
    expect(() => readText(bars("A", "B"))).toThrow(noChords);
    expect(() => readText(bars("A", "A", "B", "A"))).toThrow(noChords);
    const framed = words("A", 'placement="above"', ' enclosure="rectangle"');
    expect(chords(leadSheet(harmony("C") + G4, framed + G4, words("Am7") + G4))).toEqual([
      "C major",
      "A minor-seventh",
    ]);
  });

  test("of letters alone is chords where there are no others", () => {
    expect(chords(bars("C", "F", "G", "C"))).toEqual(["C major", "F major", "G major", "C major"]);
  });

  test("of letters alone beside real chord symbols is left, and asked about unless it names sections", () => {
    expect(chords(mixed("A", "B"))).toEqual(["C major"]);
    expect(said(mixed("A", "B"))).toEqual([]);
    expect(said(mixed("F"))).toEqual([
      'chord-text-unread: Text that may be chords was not taken for any: "F" in measure 2.',
    ]);
  });

  test.each([
    "Fine",
    "D.C. al Coda",
    "Adagio",
    "Dolce",
    "dim.",
    "cresc.",
    "a tempo",
    "a 2",
    "f",
    "Bridge",
    "Chorus:",
    "Amen",
  ])("%j is no chord and not asked about", (text) => {
    expect(chords(mixed(text))).toEqual(["C major"]);
    expect(said(mixed(text))).toEqual([]);
  });

  test("that begins as a chord and cannot be read is listed with its measure", () => {
    expect(said(mixed("G7(b9)", "Bm pedal", "E7xyz"))).toEqual([
      "chord-text-read: One chord stands as text above the staff (G7(b9)), not as a chord symbol; it was read as one.",
      'chord-text-unread: Text that may be chords was not taken for any: "Bm pedal" in measure 3, "E7xyz" in measure 4.',
    ]);
  });

  test("of a transposing part moves with its notes", () => {
    const transpose = "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>";
    const xml = score([{ bars: [attributes(FOUR_FOUR + transpose) + words("Em7") + G4] }]);
    expect(chordText(readText(xml).tune)).toEqual(["1:1 D minor-seventh"]);
  });

  test("a score with nothing but text that cannot be read says which", () => {
    try {
      readText(bars("E7xyz", "Fine"));
      expect.unreachable();
    } catch (error) {
      expect((error as ScoreError).finding.message).toContain('not even "E7xyz"');
    }
  });
});

describe("Chord names", () => {
  test("are German where H, Es or As are among them, and B is then B flat", () => {
    const xml = mixed("H7", "Es", "As7", "B", "Fism7/H");
    expect(chords(xml)).toEqual([
      "C major",
      "B dominant",
      "Eb major",
      "Ab dominant",
      "Bb major",
      "F# minor-seventh/B",
    ]);
    expect(said(xml)[0]).toContain("read as such with German names (H is B natural, B is B flat)");
  });

  test("with small letters among capitals are minor chords, in English and in German", () => {
    expect(chords(bars("G7", "a", "d7", "e", "C"))).toEqual([
      "G dominant",
      "A minor",
      "D minor-seventh",
      "E minor",
      "C major",
    ]);
    const german = mixed("H7", "Es", "a", "am", "g7", "fis", "cdim");
    expect(chords(german).slice(3)).toEqual([
      "A minor",
      "A minor",
      "G minor-seventh",
      "F# minor",
      "C diminished",
    ]);
    expect(said(german)[0]).toContain("and small letters for minor");
  });

  test("that are all small are read as capitals", () => {
    expect(chords(bars("am", "dm7", "g7", "c"))).toEqual([
      "A minor",
      "D minor-seventh",
      "G dominant",
      "C major",
    ]);
  });

  test("are Italian where Do and Sol are", () => {
    expect(chords(bars("Do", "Lam", "Re-7", "Sol7", "Sib", "Do7+", "Fa#m/La"))).toEqual([
      "C major",
      "A minor",
      "D minor-seventh",
      "G dominant",
      "Bb major",
      "C major-seventh",
      "F# minor/A",
    ]);
  });

  test("are those that were asked for", () => {
    expect(chords(bars("B", "Em", "A7"))).toEqual(["B major", "E minor", "A dominant"]);
    expect(chords(bars("B", "Em", "A7"), "german")).toEqual(["Bb major", "E minor", "A dominant"]);
    expect(chords(bars("C", "a7"), "english")).toEqual(["C major", "A dominant"]);
  });

  test("with sus are not mistaken for A flat", () => {
    expect(chords(bars("H7", "Asus4", "Esus", "Des"))).toEqual([
      "B dominant",
      "A suspended-fourth",
      "E suspended-fourth",
      "Db major",
    ]);
  });
});

describe("A line among the lyrics", () => {
  const sung = (pitch: string, ...lines: readonly string[]) =>
    note(pitch, 8, {
      after: lines
        .map((text, index) =>
          text === "" ? "" : `<lyric number="${index + 1}"><text>${text}</text></lyric>`,
        )
        .join(""),
    });

  test("of chords is read as chords, said, and not sung in the guitar part", () => {
    const xml = leadSheet(
      sung("G4", "Two", "C") + sung("A4", "geese", "Am7"),
      sung("F4", "on", "") + sung("G4", "ice", "G7"),
    );
    expect(chordText(readText(xml).tune)).toEqual(["1:1 C major", "1:3 A minor-seventh", "2:3 G dominant"]);
    expect(said(xml)).toContain(
      "chord-text-read: 3 chords stand among the lyrics (C, Am7, G7), not as chord symbols; they were read as such.",
    );
    const guitar = firstPart(writtenScore(xml, {}, { lead: "drop" }));
    const texts = [...everyNamed(guitar, "lyric")].flatMap((lyric) =>
      childrenNamed(lyric, "text").map(textOf),
    );
    expect(texts).toEqual(["Two", "geese", "on", "ice"]);
    expect([...everyNamed(guitar, "harmony")]).toHaveLength(3);
    expect([...everyNamed(guitar, "lyric")].every((lyric) => attributeOf(lyric, "number") === "1")).toBe(
      true,
    );
  });

  test("two chords on one syllable are spread over its note", () => {
    const xml = leadSheet(
      note("G4", 16, {
        after: "<lyric><text>C</text><elision> </elision><text>G7</text></lyric>",
      }),
      sung("G4", "F") + sung("A4", "Dm"),
    );
    expect(chordText(readText(xml).tune)).toEqual([
      "1:1 C major",
      "1:3 G dominant",
      "2:1 F major",
      "2:3 D minor",
    ]);
  });

  test.each([
    ["words", ["A", "Bee", "Am", "E"]],
    ["syllables of the scale", ["Do", "re", "mi", "fa"]],
    ["the notes' own names", ["G", "A", "F", "G"]],
  ])("of %s is none", (_, [one = "", two = "", three = "", four = ""]) => {
    const xml = leadSheet(sung("G4", one) + sung("A4", two), sung("F4", three) + sung("G4", four));
    expect(() => readText(xml)).toThrow(/There are no chords/);
  });
});

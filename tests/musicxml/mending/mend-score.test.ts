import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { Findings, ScoreError } from "../../../src/diagnostics.js";
import { mendScore } from "../../../src/musicxml/mending/mend-score.js";
import { readScore } from "../../../src/read-score.js";
import { parseXml } from "../../../src/xml/parse-xml.js";
import { printXml } from "../../../src/xml/print-xml.js";
import type { XmlDocument } from "../../../src/xml/xml-tree.js";
import { readText } from "../../support/reading.js";
import { isSchemaHere, schemaErrors } from "../../support/schema.js";
import { attributes, FOUR_FOUR, harmony, leadSheet, note, rest, score } from "../../support/score-text.js";
import { isSharedHere, SHARED } from "../../support/shared.js";
import { chordText, melodyText } from "../../support/tune-text.js";

const OPTIONS = { melody: "auto", chordNames: "auto", tune: 0 } as const;
const G4 = note("G4", 16);
const words = (text: string, after = "") =>
  `<direction placement="above"><direction-type><words>${text}</words></direction-type>${after}</direction>`;

function mended(xml: string) {
  const whole = mendScore(parseXml(xml), OPTIONS);
  const text = printXml(whole.document);
  return {
    text,
    chords: chordText(readText(text).tune),
    mended: whole.mended.map(({ rule }) => rule),
    left: whole.left.map(({ rule }) => rule),
  };
}

/** Whatever is mended, the tune is the one that was read before. */
function expectSameTune(before: XmlDocument, after: XmlDocument, name: string): void {
  const [one, other] = [before, after].map((document) => readText(printXml(document)).tune);
  if (one === undefined || other === undefined) throw new Error("no tune");
  expect(chordText(other), name).toEqual(chordText(one));
  expect(melodyText(other), name).toEqual(melodyText(one));
}

describe("Mending writes what was read", () => {
  test("chords of one beat onto beats of their own, by an offset from their note", () => {
    const xml = leadSheet(harmony("C") + harmony("A", "minor", "", 'relative-x="1400"') + G4);
    const { text, ...said } = mended(xml);
    expect(said).toEqual({ chords: ["1:1 C major", "1:3 A minor"], mended: ["chords-spread"], left: [] });
    expect(text).toContain("<kind>minor</kind><offset>8</offset></harmony><note>");
    expect(text).not.toContain("relative-x");
  });

  test("chords of one beat before the notes they sound with, where there are some", () => {
    const four = note("G4", 4) + note("A4", 4) + note("B4", 4) + note("C5", 4);
    const { text } = mended(leadSheet(harmony("C") + harmony("F", "major", "", 'relative-x="90"') + four));
    expect(text).not.toContain("offset");
    expect(text).toMatch(/<step>A<\/step>.*<harmony><root><root-step>F<.*<step>B<\/step>/);
  });

  test("typed chords as chord symbols, and leaves other words and what sounds beside them", () => {
    const xml = leadSheet(
      words("Swing") + words("H7", '<sound tempo="90"/>') + G4,
      words("es  As") + note("A4", 16, { after: "<lyric><text>geese</text></lyric>" }),
    );
    const { text, ...said } = mended(xml);
    expect(said).toEqual({
      chords: ["1:1 B dominant", "2:1 Eb minor", "2:3 Ab major"],
      mended: ["chord-text-read"].concat("chords-spread"),
      left: [],
    });
    expect(text.match(/<words>[^<]*/g)).toEqual(["<words>Swing"]);
    expect(text).toContain('<sound tempo="90"/>');
    expect(text).toContain("<text>geese</text>");
  });

  test("a line of chords among the lyrics as chord symbols", () => {
    const sung = (name: string, text: string, chord: string) =>
      note(name, 8, {
        after: `<lyric number="1"><text>${text}</text></lyric><lyric number="2"><text>${chord}</text></lyric>`,
      });
    const { text, chords, left } = mended(leadSheet(sung("G4", "two", "C") + sung("A4", "geese", "G7")));
    expect(chords).toEqual(["1:1 C major", "1:3 G dominant"]);
    expect(text.match(/<text>[^<]*/g)).toEqual(["<text>two", "<text>geese"]);
    expect(left).toEqual([]);
  });

  test("kinds and roots in the words of MusicXML, with what was printed", () => {
    const xml = leadSheet(
      "<harmony><root><root-step>H</root-step></root><kind>min7</kind><bass><bass-step>Fis</bass-step></bass></harmony>" +
        G4,
      `<harmony><root><root-step>G</root-step></root><kind text="7b9">other</kind></harmony>${G4}`,
      `<harmony><root><root-step>G</root-step></root><kind>N.C.</kind></harmony>${G4}`,
    );
    const { text, ...said } = mended(xml);
    expect(said.left).toEqual([]);
    expect(said.chords).toEqual(["1:1 B minor-seventh/F#", "2:1 G dominant add b9", "3:1 N.C."]);
    expect(text).toContain(
      '<root><root-step>B</root-step></root><kind text="min7">minor-seventh</kind><bass><bass-step>F</bass-step><bass-alter>1</bass-alter></bass>',
    );
    expect(text).toContain('<kind text="7b9">dominant</kind><degree><degree-value>9</degree-value>');
    expect(text).toContain('<kind text="N.C.">none</kind>');
  });

  test("a kind that says nothing stays for a person to mend", () => {
    const xml = leadSheet(harmony("C", "mystery") + G4);
    expect(mended(xml)).toMatchObject({ mended: [], left: ["chord-kind-unusable"] });
    expect(mended(xml).text).toContain("<kind>mystery</kind>");
  });

  test("missing divisions and durations, and durations that fill the bar", () => {
    const half = (name: string, duration: number | "") => note(name, duration, { type: "<type>half</type>" });
    const bare = score([
      { bars: [`<attributes>${FOUR_FOUR}</attributes>${harmony("C")}${half("C5", 6)}${half("D5", 6)}`] },
    ]);
    expect(mended(bare)).toMatchObject({ mended: ["divisions-missing"], left: [] });
    expect(mended(bare).text).toContain("<attributes><divisions>3</divisions><time>");

    const lacking = leadSheet(harmony("C") + half("C5", "") + half("D5", 8));
    expect(mended(lacking)).toMatchObject({ mended: ["duration-missing"], left: [] });
    const wrong = leadSheet(harmony("C") + half("C5", 48) + half("D5", 48));
    expect(mended(wrong)).toMatchObject({ mended: ["duration-contradicts-type"], left: [] });
    expect(mended(wrong).text.match(/<duration>\d+/g)).toEqual(["<duration>8", "<duration>8"]);
  });

  test("a whole rest that stands for a bar of three quarters, with the bar's length", () => {
    const threeFour = "<time><beats>3</beats><beat-type>4</beat-type></time>";
    const bars = [
      rest(16),
      rest(16, { staff: 1 }).replace("<rest/>", '<rest measure="yes"/>'),
      note("C5", 12),
    ];
    const xml = score([{ bars: [attributes(threeFour) + harmony("C") + note("G4", 12), ...bars] }]);
    const whole = mended(xml);
    expect(whole.mended).toEqual(["bar-rest-length", "bar-rest-length"]);
    expect(whole.left).toEqual([]);
    expect([...whole.text.matchAll(/<duration>(\d+)/g)].map(([, length]) => length)).toEqual(
      Array(4).fill("12"),
    );
    expectSameTune(parseXml(xml), parseXml(whole.text), "rests");
    // Beside notes a rest of four quarters makes the bar too long, and nobody knows what was meant.
    const beside = mended(
      score([{ bars: [attributes(threeFour) + harmony("C") + note("G4", 4) + rest(16)] }]),
    );
    expect(beside.left).toEqual(["bar-length"]);
  });

  test("a chord at the very end of its bar at the beginning of the next", () => {
    const {
      mended: said,
      chords,
      left,
    } = mended(leadSheet(harmony("C") + G4 + harmony("F"), note("A4", 16)));
    expect({ said, chords, left }).toEqual({
      said: ["chord-at-bar-end"],
      chords: ["1:1 C major", "2:1 F major"],
      left: [],
    });
  });

  test("and nothing where nothing is odd", () => {
    const xml = leadSheet(harmony("C") + G4, note("A4", 16));
    expect(mended(xml)).toMatchObject({ text: printXml(parseXml(xml)), mended: [], left: [] });
  });

  test("a score without a tune is refused", () => {
    expect(() => mended(leadSheet(G4))).toThrow(ScoreError);
  });
});

test.skipIf(!isSharedHere)(
  "every tenth lead sheet of the collection gives the same tune after mending, is still valid, and needs no more",
  () => {
    const folder = join(SHARED, "corpus", "lead-sheets");
    const names = readdirSync(folder).filter((_, index) => index % 10 === 3);
    let repairs = 0;
    for (const name of names) {
      const document = readScore(readFileSync(join(folder, name)), new Findings());
      const once = mendScore(document, OPTIONS);
      expectSameTune(document, once.document, name);
      const text = printXml(once.document);
      expect(printXml(mendScore(parseXml(text), OPTIONS).document), name).toBe(text);
      const isToBeValid = once.mended.length > 0 && schemaErrors(printXml(document)) === "";
      if (isSchemaHere && isToBeValid) expect(schemaErrors(text), name).toBe("");
      repairs += once.mended.length;
    }
    expect(repairs).toBeGreaterThan(20);
  },
  120_000,
);

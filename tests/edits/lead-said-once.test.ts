import { describe, expect, test } from "vitest";
import { parseXml } from "../../src/xml/parse-xml.js";
import { ensembleFromText } from "../support/ensemble-from-text.js";
import { harmony, leadSheet, note } from "../support/score-text.js";
import { again, made } from "./edited.js";
import { type Change, changeNote, withoutField, withPitch } from "./score-changes.js";

const unedited: Change = (root) => root;

/** What was said of the lead sheet beside the guitar. */
const ofLead = ({ said }: { readonly said: readonly string[] }) =>
  said.filter((rule) => rule.startsWith("lead-"));

describe("a lead sheet that stays in another key than the guitar is said once", () => {
  const bars = (first: string) =>
    leadSheet(harmony("C") + first + note("G4", 8), harmony("F") + note("A4", 16));
  const frets = "<notations><technical><string>1</string><fret>0</fret></technical></notations>";
  const typed = leadSheet(
    `<direction><direction-type><words>C</words></direction-type></direction>${note("E4", 16)}`,
    `<direction><direction-type><words>F</words></direction-type></direction>${note("A4", 16)}`,
  );

  test.each([
    ["since it was asked to", bars(note("E4", 8)), { key: "D", leadKey: "written" }],
    ["since it has frets", bars(note("E4", 8, { after: frets })), { key: "D" }],
    ["since it has quarter tones", bars(note("E4", 8, { alter: "-0.5" })), { key: "Eb" }],
    ["since its chords are text", typed, { key: "D" }],
    [
      "since the melody had to go to that key",
      bars(note("E4", 8)),
      { strings: "1", frets: 5, capo: 2, leadKey: "written" },
    ],
  ])("%s", (_, xml, options) => {
    const before = made(parseXml(xml), options);
    expect(ofLead(before)).toEqual(["lead-stays"]);
    const back = again(before, unedited);
    expect(back.text).toBe(before.text);
    expect(ofLead(back)).toEqual([]);
  });

  test("and again where it is asked for otherwise, or nothing is on record", () => {
    const before = made(parseXml(bars(note("E4", 8, { after: frets }))), { key: "D" });
    expect(ofLead(again(before, unedited, { leadKey: "written" }))).toEqual(["lead-stays"]);
    expect(ofLead(again(before, unedited, { key: "Eb" }))).toEqual(["lead-stays"]);
    expect(ofLead(again(before, withoutField, { key: "D" }))).toEqual(["lead-stays"]);
  });
});

describe("chords that were worked out from the voices", () => {
  const TRIO = ensembleFromText(`title: Gate at the Field
key: 0 major
time: 4/4

part: Treble
E4/2 F4/2 | C5/1 ||

part: Middle
C4/2 C4/2 | E4/1 ||

part: Low
C3/2 A2/2 | C3/1 ||`);
  const OPTIONS = { chords: "voices", leadChords: true };
  const written = made(parseXml(TRIO), OPTIONS);

  test("and written over the tune are not others when they come back", () => {
    expect(ofLead(written)).toEqual([]);
    const back = again(written, unedited);
    expect(back.text).toBe(written.text);
    expect(ofLead(back)).toEqual([]);
  });

  test("and kept from the chord symbols there are said once", () => {
    const symbols = parseXml(TRIO.replace("<note>", `${harmony("A", "minor")}<note>`));
    const before = made(symbols, OPTIONS);
    expect(ofLead(before)).toEqual(["lead-chords-there"]);
    expect(ofLead(again(before, unedited))).toEqual([]);
  });

  test("and are others since a voice was changed do not come among the old ones, and that is said", () => {
    const back = again(written, changeNote(["P3", 1, 3, "A2"], withPitch("D3")));
    expect(ofLead(back)).toEqual(["lead-chords-there"]);
    expect(ofLead(again(back, unedited))).toEqual([]);
  });

  test("and are asked for over the tune only now are said to have no place there", () => {
    const before = made(parseXml(TRIO.replace("<note>", `${harmony("A", "minor")}<note>`)), {
      chords: "voices",
    });
    expect(ofLead(before)).toEqual([]);
    expect(ofLead(again(before, unedited, { leadChords: true }))).toEqual(["lead-chords-there"]);
  });
});

import { describe, expect, test } from "vitest";
import { readOwnMark } from "../../src/musicxml/round-trip/provenance.js";
import { printXml } from "../../src/xml/print-xml.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  childText,
  descendantAt,
  elementsOf,
  everyNamed,
  textOf,
  type XmlElement,
} from "../../src/xml/xml-tree.js";
import type { PlainWishes } from "../support/plain-arrangement.js";
import { isSchemaHere, schemaErrors } from "../support/schema.js";
import { attributes, FOUR_FOUR, harmony, leadSheet, note, score } from "../support/score-text.js";
import { staffText, tabText } from "../support/staff-text.js";
import { firstPart, partIds, tabPart, writtenScore, writtenTune } from "../support/written-score.js";

const BARRE = { finger: 1, fret: 2, from: 5, to: 1 } as const;

/** Chords in voice 1 and 2, over a barline, in a triplet, under a held note. */
const HELD_CHORDS: PlainWishes = {
  supports: [
    { pitch: "B3", string: 2, from: 1, to: 3 },
    { pitch: "G2", string: 6, from: 1, to: 3 },
    { pitch: "D3", string: 4, from: 10 / 3, to: 5 },
    { pitch: "F#3", string: 4, finger: 2, from: 9, to: 10 },
    { pitch: "E3", string: 4, finger: 1, from: 14, to: 17 },
  ],
  barres: [{ at: 9, barre: BARRE }],
};

/** A tune with most of what can stand in one: pickup, endings, triplet, held chords, lyrics, N.C., a barre. */
const everything = (options: object) =>
  writtenTune(
    `title: Nine Ladders
key: 1 major
time: 4/4
tempo: 96

D4/8"Nine" G4/8"lad-" |: [G] G4/2"-ders" A4/8t G4/8t F#4/8t E4/4 | [C@1] C5/2.~ C5/4 | [D7] C5/4 r/2 A4/4 |1 [Em@1] G4/1 :|2 [N.C.] G4/8 A4/8 Bb4/4 B4/2 ||`,
    HELD_CHORDS,
    options,
  );

const LAYOUTS = ["parts", "joined", "tab"].flatMap((staves) =>
  ["keep", "drop"].flatMap((lead) => [true, false].map((diagrams) => ({ staves, lead, diagrams }))),
);

describe.each(LAYOUTS)("With $staves, lead $lead, diagrams $diagrams", (options) => {
  test.skipIf(!isSchemaHere)("the score is valid by the schema of MusicXML 4.0", () => {
    expect(schemaErrors(everything(options).text)).toBe("");
  });

  test("writing into its own output changes nothing", () => {
    const { text } = everything(options);
    expect(rewritten(text, options)).toBe(text);
  });
});

/** The same times in quarters fit a score that was written before. */
const rewritten = (text: string, options: object): string => writtenScore(text, HELD_CHORDS, options).text;

describe("Two parts", () => {
  const written = everything({});
  const clefOf = (part: XmlElement) =>
    [...everyNamed(part, "clef")].map((clef) => elementsOf(clef).map(textOf));

  test("stand in one bracket after the lead sheet's part, which is as it was", () => {
    const list = childNamed(written.root, "part-list");
    expect(list && elementsOf(list).map(({ name }) => name)).toEqual([
      "score-part",
      "part-group",
      "score-part",
      "score-part",
      "part-group",
    ]);
    const [lead] = childrenNamed(written.root, "part");
    const [before] = childrenNamed(written.sheet.source.score, "part");
    expect(lead).toEqual(before);
  });

  test("have the same notes, ties and tuplets at the same times", () => {
    const visible = (line: string) => line.replace(/\(r\)/g, "r").replace(/\(R\)/g, "R");
    expect(staffText(tabPart(written)).map(visible)).toEqual(staffText(firstPart(written)).map(visible));
  });

  test("show notation an octave up by the clef alone, and TAB without key, meter and stems", () => {
    expect(clefOf(firstPart(written))).toEqual([["G", "2", "-1"]]);
    expect(clefOf(tabPart(written))).toEqual([["TAB", "5"]]);
    expect([...everyNamed(written.root, "transpose")]).toEqual([]);
    for (const name of ["key", "time"])
      expect([...everyNamed(tabPart(written), name)].map((one) => attributeOf(one, "print-object"))).toEqual([
        "no",
      ]);
    const stems = new Set([...everyNamed(tabPart(written), "stem")].map(textOf));
    expect(stems).toEqual(new Set(["none"]));
  });

  test("have strings and frets on TAB only, fingers on the notation only", () => {
    expect([...everyNamed(firstPart(written), "string")]).toEqual([]);
    expect(tabText(tabPart(written))).not.toContain("-");
    expect([...everyNamed(tabPart(written), "fingering")]).toEqual([]);
    const fingers = [...everyNamed(firstPart(written), "note")].map(
      (one) => descendantAt(one, "notations", "technical", "fingering") !== undefined,
    );
    expect(fingers).toContain(true);
  });

  test("are silent on TAB twice over, on a channel of its own", () => {
    const pitched = [...everyNamed(tabPart(written), "note")].filter((one) => childNamed(one, "pitch"));
    expect(new Set(pitched.map((one) => attributeOf(one, "dynamics")))).toEqual(new Set(["0"]));
    const instruments = [...everyNamed(written.root, "midi-instrument")];
    expect(instruments.map((one) => childText(one, "volume"))).toEqual([undefined, "0"]);
    expect(new Set(instruments.map((one) => childText(one, "midi-channel"))).size).toBe(2);
  });

  test("state the tuning with line 1 at the bottom and string 1 at the top", () => {
    const tuning = [...everyNamed(tabPart(written), "staff-tuning")].map(
      (one) =>
        `${attributeOf(one, "line")}:${childText(one, "tuning-step")}${childText(one, "tuning-octave")}`,
    );
    expect(tuning).toEqual(["1:E2", "2:A2", "3:D3", "4:G3", "5:B3", "6:E4"]);
  });
});

describe("One part with two staves", () => {
  test("has voices of its own on the second staff and one key and meter", () => {
    const [part, more] = everything({ staves: "joined" }).parts;
    expect(more).toBeUndefined();
    if (part === undefined) throw new Error("no part");
    const voices = [...everyNamed(part, "note")].map(
      (one) => `${childText(one, "staff")}/${childText(one, "voice")}`,
    );
    expect(new Set(voices)).toEqual(new Set(["1/1", "1/2", "2/5", "2/6"]));
    expect([...everyNamed(part, "time")]).toHaveLength(1);
    const hidden = (line: string) => line.replace(/\(r\)/g, "r");
    expect(staffText(part, "2").map(hidden)).toEqual(staffText(part, "1").map(hidden));
  });
});

describe("TAB alone", () => {
  test("carries fingers, chord symbols, words and lyrics itself, and sounds", () => {
    const written = everything({ staves: "tab", lead: "drop" });
    const part = firstPart(written);
    for (const name of ["fingering", "harmony", "lyric", "words"])
      expect([...everyNamed(part, name)].length, name).toBeGreaterThan(0);
    expect([...everyNamed(part, "note")].some((one) => attributeOf(one, "dynamics") === "0")).toBe(false);
    expect([...everyNamed(part, "staff-type")]).toEqual([]);
  });
});

describe("The rest of the score", () => {
  test("stays when the lead sheet is dropped: titles, credits and layout", () => {
    const head =
      '<work><work-title>Nine Ladders</work-title></work><identification><rights>Nobody</rights></identification><credit page="1"><credit-words>Nine Ladders</credit-words></credit>';
    const lead = score([{ bars: [attributes(FOUR_FOUR) + harmony("C") + note("G4", 16)] }], head);
    const { root } = writtenScore(lead, {}, { lead: "drop" });
    expect(partIds(root)).toEqual(["P1", "P2"]);
    expect(elementsOf(root).map(({ name }) => name)).toEqual([
      "work",
      "identification",
      "credit",
      "part-list",
      "part",
      "part",
    ]);
  });

  test("says which parts are the guitar's, in place of what an earlier run said", () => {
    const { text, root } = everything({ lead: "keep", capo: 2 });
    expect(readOwnMark(root)).toEqual({ parts: ["P2", "P3"], lead: "keep", options: { capo: 2 } });
    const again = rewritten(text, { lead: "drop" });
    expect([...again.matchAll(/x-undervoice/g)]).toHaveLength(1);
    expect(again).toContain('"lead":"drop"');
  });

  test("keeps its version, its DOCTYPE and what stands outside the root", () => {
    const lead = `<?xml version="1.0"?>\n<!-- by hand -->\n${leadSheet(harmony("C") + note("G4", 16)).replace('version="4.0"', 'version="2.0"')}\n<!-- end -->`;
    const { text } = writtenScore(lead);
    expect(text.startsWith('<?xml version="1.0"?>\n<!-- by hand -->\n<score-partwise version="2.0">')).toBe(
      true,
    );
    expect(text.endsWith("</score-partwise>\n<!-- end -->")).toBe(true);
  });

  test("a score that came measure by measure goes out part by part, and says so", () => {
    const bar = attributes(FOUR_FOUR) + harmony("C") + note("G4", 16);
    const lead = `<?xml version="1.0"?><!DOCTYPE score-timewise PUBLIC "-//Recordare//DTD MusicXML 4.0 Timewise//EN" "http://www.musicxml.org/dtds/timewise.dtd"><score-timewise version="4.0"><part-list><score-part id="P1"><part-name>Tune</part-name></score-part></part-list><measure number="1"><part id="P1">${bar}</part></measure></score-timewise>`;
    const { text, root } = writtenScore(lead);
    expect(root.name).toBe("score-partwise");
    expect(text).toContain(
      '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">',
    );
    expect(partIds(root)).toEqual(["P1", "P2", "P3"]);
  });

  test("takes ids, channels and group numbers that nothing else has", () => {
    const lead = `<score-partwise version="4.0"><part-list><part-group type="start" number="1"/><score-part id="P2"><part-name>Tune</part-name><score-instrument id="P1"><instrument-name>Flute</instrument-name></score-instrument><midi-instrument id="P1"><midi-channel>1</midi-channel></midi-instrument></score-part><part-group type="stop" number="1"/></part-list><part id="P2"><measure number="1">${attributes(FOUR_FOUR)}${harmony("C")}${note("G4", 16)}</measure></part></score-partwise>`;
    const { root } = writtenScore(lead);
    expect(partIds(root)).toEqual(["P2", "P3", "P4"]);
    expect([...everyNamed(root, "midi-channel")].map(textOf)).toEqual(["1", "2", "3"]);
    expect([...everyNamed(root, "part-group")].map((one) => attributeOf(one, "number"))).toEqual([
      "1",
      "1",
      "2",
      "2",
    ]);
  });

  test("is indented as the file is, and stays on one line where the file does", () => {
    expect(everything({}).text).toContain('\n  <part id="P2">\n    <measure number="0" implicit="yes">\n');
    const dense = writtenScore(leadSheet(harmony("C") + note("G4", 16)));
    expect(dense.text).not.toContain("\n");
  });
});

describe("The instrument", () => {
  test("has its capo and its tuning stated, spelled as asked", () => {
    const written = writtenTune("[C] G4/1", {}, { tuning: "Eb2 Ab2 Db3 Gb3 Bb3 Eb4", capo: 2 });
    const part = tabPart(written);
    expect([...everyNamed(part, "capo")].map(textOf)).toEqual(["2"]);
    const [lowest] = [...everyNamed(part, "staff-tuning")];
    expect(lowest && elementsOf(lowest).map(textOf)).toEqual(["E", "-1", "2"]);
    // G4 over an open string of Eb4 with the capo on fret 2.
    expect(tabText(part)).toEqual(["1/2"]);
  });

  test("may have seven strings, the clef in the middle of its lines", () => {
    const part = tabPart(writtenTune("[C] G4/1", {}, { tuning: "B1 E2 A2 D3 G3 B3 E4" }));
    expect([...everyNamed(part, "staff-lines")].map(textOf)).toEqual(["7"]);
    expect([...everyNamed(part, "staff-tuning")].map((one) => childText(one, "tuning-step")).join("")).toBe(
      "BEADGBE",
    );
  });
});

test("what is printed is what was made: a second parse finds the same tree", () => {
  const { text, root } = everything({});
  expect(printXml({ prolog: "", root, epilog: "" })).toBe(
    text.slice(text.indexOf("<score-partwise")).trimEnd(),
  );
});

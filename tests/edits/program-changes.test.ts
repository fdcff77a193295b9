import { MusicXML } from "@stringsync/musicxml";
import { parse, serialize } from "musicxml-io";
import { describe, expect, test, vi } from "vitest";
import { arrangeBytes } from "../../src/arrange-bytes.js";
import { Findings } from "../../src/diagnostics.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { compressedScore, readScoreText } from "../../src/xml/container.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { printXml } from "../../src/xml/print-xml.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  childText,
  withChildren,
  withElements,
  type XmlDocument,
  type XmlElement,
} from "../../src/xml/xml-tree.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { again, changed, type Made, made, madeFrom } from "./edited.js";
import {
  barlinesLast,
  type Change,
  changeNote,
  finerDivisions,
  inMeasures,
  inPart,
  inTurn,
  merged,
  respelled,
  split,
  stavesSwapped,
  timewise,
  voicesFrom,
  withIds,
  withLayout,
  withNames,
  withoutField,
  withoutFingers,
  withoutIdentification,
  withoutInNotes,
  withoutPart,
  withoutTechnical,
  withPartsInOrder,
  withPitch,
  withPlace,
  withPositions,
  writtenOctaveUp,
} from "./score-changes.js";

vi.mock("../../src/arranging/costs/cost-table.js", async (original) =>
  (await import("./plain-costs.js")).withPlainCosts(original),
);

const parts: Made = madeFrom({});
const joined: Made = madeFrom({ staves: "joined" });
const tab: Made = madeFrom({ staves: "tab" });
const dropped: Made = madeFrom({ lead: "drop" });
const droppedJoined: Made = madeFrom({ lead: "drop", staves: "joined" });

/** The one edit that is carried through everything below: a fret changed in the TAB of a part. */
const fretIn = (part: string): Change => changeNote([part, 7, 1, "4/5"], withPlace(4, 7));
const GONE = ["7:1 2 55 4/5-1"];
const COME = ["7:1 2 57 4/7-3"];

interface Passage {
  readonly name: string;
  readonly from?: Made;
  readonly tab?: string;
  readonly does: Change;
  /** What is said beside the edit. */
  readonly said?: readonly string[];
}

const RECOGNISED = ["guitar-part-recognised"];

const PASSAGES: readonly Passage[] = [
  { name: "nothing else", does: (root) => root },
  { name: "new ids", does: withIds({ P1: "A", P2: "B", P3: "C" }) },
  { name: "ids exchanged among the parts", does: withIds({ P1: "P3", P2: "P1", P3: "P2" }) },
  { name: "new part names", does: withNames("Music") },
  { name: "no field", does: withoutField, said: RECOGNISED },
  { name: "no field, no program's name", does: withoutIdentification, said: RECOGNISED },
  {
    name: "no field, no program's name, other ids, other part names",
    does: inTurn(withoutIdentification, withNames("Music"), withIds({ P1: "A", P2: "B", P3: "C" })),
    said: RECOGNISED,
  },
  { name: "voices numbered from 5", does: voicesFrom(5) },
  { name: "barlines at the end of their measures", does: barlinesLast },
  { name: "every note spelled another way", does: respelled },
  { name: "no beams and no stems", does: withoutInNotes("beam", "stem") },
  { name: "no note types, dots and accidentals", does: withoutInNotes("type", "dot", "accidental") },
  { name: "no fingers", does: withoutFingers },
  { name: "notation and TAB merged into one part of two staves", does: merged("P2", "P3") },
  {
    name: "notation and TAB merged, and no field",
    does: inTurn(merged("P2", "P3"), withoutIdentification),
    said: RECOGNISED,
  },
  { name: "all merged into one part of three staves", does: merged("P1", "P2", "P3") },
  { name: "parts in another order", does: withPartsInOrder([2, 0, 1]) },
  { name: "systems, pages and widths", does: withLayout },
  { name: "positions on paper", does: withPositions },
  { name: "finer divisions", does: finerDivisions(7) },
  { name: "the notation written an octave higher and transposed", does: writtenOctaveUp("P2") },
  { name: "measure by measure in place of part by part", does: timewise },
  { name: "the notation part deleted", does: withoutPart("P2") },
  { name: "two staves as they were written", from: joined, tab: "P2", does: (root) => root },
  { name: "two staves made two parts", from: joined, tab: "P2", does: split("P2", ["P8", "P9"]) },
  { name: "two staves in the other order", from: joined, tab: "P2", does: stavesSwapped("P2") },
  { name: "two staves, and no field", from: joined, tab: "P2", does: withoutField, said: RECOGNISED },
  { name: "TAB alone", from: tab, tab: "P2", does: (root) => root },
  { name: "TAB alone, and no field", from: tab, tab: "P2", does: withoutField, said: RECOGNISED },
  { name: "no lead sheet", from: dropped, tab: "P2", does: (root) => root },
  { name: "no lead sheet, and no field", from: dropped, tab: "P2", does: withoutField, said: RECOGNISED },
  { name: "no lead sheet, and voices from 5", from: dropped, tab: "P2", does: voicesFrom(5) },
];

describe("an edit comes through, and nothing else moves, where the file comes back with", () => {
  test.each(PASSAGES)("$name", ({ from = parts, tab: part = "P3", does, said = [] }) => {
    const back = again(from, inTurn(fretIn(part), does));
    expect({ gone: back.gone, come: back.come, said: back.said }).toEqual({
      gone: GONE,
      come: COME,
      said: [...said, "edit-kept 7:1"],
    });
  });
});

describe("parts beside the guitar are never lost", () => {
  const lead = ({ document }: Made) => printXml({ ...document, root: onlyPart(document.root, "P1") });
  /** Every note of the lead sheet another one, so that nothing of its tune is in the guitar part. */
  const writtenOver: Change = inPart(
    "P1",
    inMeasures((measure, index) =>
      withElements(measure, (child) =>
        child.name === "note" && childNamed(child, "pitch") !== undefined
          ? withPitch(["C5", "A4", "D5", "G4", "F5", "B4", "E5"][index] ?? "A4")(child)
          : child,
      ),
    ),
  );

  test.each([
    { name: "notation and TAB", from: parts, does: writtenOver },
    { name: "two staves", from: joined, does: writtenOver },
    { name: "TAB alone", from: tab, does: writtenOver },
    { name: "notation and TAB without the mark", from: parts, does: inTurn(writtenOver, withoutField) },
  ])("a lead sheet with another tune written over it stays beside $name", ({ from, does }) => {
    const changedLead = changed(from, does);
    const back = again(from, does);
    expect(lead(back)).toBe(lead({ ...from, document: changedLead }));
    expect(back.sheet.source.melodyPartId).toBe("P1");
    expect(made(parseXml(back.text)).text).toBe(back.text);
  });

  test.each([dropped, droppedJoined])(
    "a part that was put beside a guitar part without lead sheet stays",
    (from) => {
      const bassLine = withIds({ P1: "P7", P2: "P8" })(parseXml(BASS_LINE).root);
      const added: Change = (root) => withPartAdded(root, bassLine);
      const back = again(from, added);
      expect(printXml({ ...back.document, root: onlyPart(back.document.root, "P7") })).toBe(
        printXml({ ...back.document, root: onlyPart(changed(from, added).root, "P7") }),
      );
      expect(back.attacks).toEqual(from.attacks);
      expect(made(parseXml(back.text)).text).toBe(back.text);
    },
  );
});

/** A part and its entry in the list. */
const withPartAdded = (root: XmlElement, from: XmlElement): XmlElement => {
  const entries = childrenNamed(from, "part-list").flatMap((list) => childrenNamed(list, "score-part"));
  const listed = withElements(root, (child) =>
    child.name === "part-list" ? withChildren(child, [...child.children, ...entries]) : child,
  );
  return withChildren(listed, [...listed.children, ...childrenNamed(from, "part")]);
};

/** Notes of a bass at times of their own. */
const BASS_LINE = leadSheetFromText(`title: A Shelf of Jars
key: 0 major
time: 4/4

r/4 | r/8 C3/4. r/2 | r/8 A2/4. r/2 | r/8 D3/4. r/2 | r/8 C3/4. r/2 | r/8 F3/4. r/2 | r/8 C3/4. r/2 ||`);

describe("what a file came back without is made good", () => {
  test("the TAB part deleted: pitches changed in the notation count, places come from before", () => {
    const edit = changeNote(["P2", 6, 1, "C4"], withPitch("D4"));
    const back = again(parts, inTurn(edit, withoutPart("P3")));
    expect(back.gone).toEqual(["6:1 2 60 3/5-1"]);
    expect(back.come).toEqual(["6:1 2 62 3/7-3"]);
    expect(back.said).toEqual(["places-lost", "edit-kept 6:1"]);
  });

  test("the TAB part and the mark lost", () => {
    const back = again(parts, inTurn(withoutPart("P3"), withoutField));
    expect({ gone: back.gone, come: back.come }).toEqual({ gone: [], come: [] });
    expect(back.said).toEqual(["guitar-part-recognised", "places-lost"]);
  });

  test("every string, fret and finger lost", () => {
    const back = again(parts, withoutTechnical);
    expect({ gone: back.gone, come: back.come }).toEqual({ gone: [], come: [] });
    expect(back.said).toEqual(["places-lost"]);
  });
});

test("a score that comes back compressed is the same score", () => {
  const edited = changed(parts, fretIn("P3"));
  const findings = new Findings();
  const options = completeOptions({});
  const back = arrangeBytes(compressedScore(printXml(edited)), options, findings, { isCompressed: true });
  expect(readScoreText(back.bytes).text).toBe(again(parts, fretIn("P3")).text);
  expect(findings.all.map(({ rule }) => rule)).toEqual(["edit-kept"]);
});

describe("a library that reads and writes MusicXML passes the edit on", () => {
  /** What each loses on the way is in docs/edits.md; nothing of it is needed. */
  const LIBRARIES = {
    "musicxml-io": (xml: string) => serialize(parse(xml)),
    "@stringsync/musicxml": (xml: string) => MusicXML.parse(xml).serialize(),
  };
  const cases = Object.entries(LIBRARIES).flatMap(([library, passOn]) => [
    { library, passOn, layout: "notation and TAB", from: parts, part: "P3" },
    { library, passOn, layout: "two staves", from: joined, part: "P2" },
    { library, passOn, layout: "TAB alone", from: tab, part: "P2" },
    { library, passOn, layout: "no lead sheet", from: dropped, part: "P2" },
  ]);

  test.each(cases)("$library, $layout", ({ passOn, from, part }) => {
    const passed = passOn(printXml(changed(from, fretIn(part))));
    const back = made(parseXml(passed));
    expect(back.attacks.filter((attack) => !from.attacks.includes(attack))).toEqual(COME);
    expect(from.attacks.filter((attack) => !back.attacks.includes(attack))).toEqual(GONE);
    expect(back.said).toEqual(["edit-kept 7:1"]);
  });

  test.each(cases)("$library, $layout, nothing edited: nothing is taken for an edit", ({ passOn, from }) => {
    const back = made(parseXml(passOn(from.text)));
    expect(back.attacks).toEqual(from.attacks);
    expect(back.said).toEqual([]);
  });
});

describe("a guitar part that was not written here is left alone", () => {
  const beside = (change: Change): XmlDocument => changed(parts, change);

  test("a TAB of the tune alone, without chords, stays beside the lead sheet", () => {
    const single = beside(inTurn(withoutIdentification, withoutPart("P2"), withoutChords));
    const back = made(single);
    expect(back.said).not.toContain("guitar-part-recognised");
    expect(back.text).toContain('<part id="P3">');
  });

  const withoutChords: Change = (root) => ({
    ...root,
    children: root.children.map((part) =>
      part.kind !== "element" || part.name !== "part"
        ? part
        : {
            ...part,
            children: part.children.map((measure) =>
              measure.kind !== "element"
                ? measure
                : {
                    ...measure,
                    children: measure.children.filter(
                      (child) =>
                        child.kind !== "element" ||
                        child.name !== "note" ||
                        !child.children.some(
                          (one) =>
                            one.kind === "element" &&
                            (one.name === "chord" ||
                              (one.name === "voice" &&
                                one.children.some((text) => text.kind === "text" && text.raw === "2"))),
                        ),
                    ),
                  },
            ),
          },
    ),
  });
});

describe("a guitar part of which much is gone is written so that it stays as it is", () => {
  /** The notes of a staff gone from a measure on, by position. */
  const withoutNotes = (part: string, staff: string, from: number): Change =>
    inPart(
      part,
      inMeasures((measure, index) =>
        index < from
          ? measure
          : withElements(measure, (child) =>
              child.name === "note" && (childText(child, "staff") ?? "1") === staff ? undefined : child,
            ),
      ),
    );
  const staves = [
    { name: "notation as a part", from: dropped, part: "P1", staff: "1" },
    { name: "TAB as a part", from: dropped, part: "P2", staff: "1" },
    { name: "notation of two staves", from: droppedJoined, part: "P1", staff: "1" },
    { name: "TAB of two staves", from: droppedJoined, part: "P1", staff: "2" },
  ];
  describe.each(staves)("$name", ({ from, part, staff }) => {
    test.each([1, 2, 3, 4, 5, 6])("from measure %i on", (first) => {
      const once = again(from, withoutNotes(part, staff, first - 1), { texture: "full", notes: "3" });
      expect(made(parseXml(once.text)).text).toBe(once.text);
    });
  });

  test.each(["P1", "P2"].flatMap((part) => [2, 3, 4, 5].map((measures) => ({ part, measures }))))(
    "$part with its first $measures measures only",
    ({ part, measures }) => {
      const shortened = inPart(
        part,
        inMeasures((measure, index) => (index < measures ? measure : undefined)),
      );
      const once = again(dropped, shortened, { texture: "full", notes: "3" });
      expect(made(parseXml(once.text)).text).toBe(once.text);
    },
  );

  const PARTS = [
    { name: "notation", from: dropped, gone: ["P1"] },
    { name: "TAB", from: dropped, gone: ["P2"] },
    { name: "notation and TAB", from: dropped, gone: ["P1", "P2"] },
    { name: "two staves", from: droppedJoined, gone: ["P1"] },
    { name: "notation beside a lead sheet", from: parts, gone: ["P2"] },
    { name: "TAB beside a lead sheet", from: parts, gone: ["P3"] },
    { name: "notation and TAB beside a lead sheet", from: parts, gone: ["P2", "P3"] },
    { name: "two staves beside a lead sheet", from: joined, gone: ["P2"] },
    { name: "TAB alone beside a lead sheet", from: tab, gone: ["P2"] },
    { name: "all parts", from: parts, gone: ["P1", "P2", "P3"] },
  ];
  describe.each(PARTS)("$name", ({ from, gone }) => {
    test.each([1, 2, 3])("without its first %i measures, with their clefs and tunings", (count) => {
      const shortened = inMeasures((measure, index) => (index < count ? undefined : measure));
      const once = again(from, inTurn(...gone.map((part) => inPart(part, shortened))));
      expect(made(parseXml(once.text)).text).toBe(once.text);
    });
  });

  test("a lead sheet of chords is not taken for the notation of the guitar whose own lost a measure", () => {
    const chords = changed(
      dropped,
      inTurn(withoutPart("P2"), withoutIdentification, withNames("Music"), withoutTechnical),
    );
    const written = made(chords);
    const [lead, notation] = ["P1", "P2"];
    expect(written.text).toContain(`"parts":["${notation}","P3"]`);
    const once = again(
      written,
      inPart(
        notation,
        inMeasures((measure, index) => (index === 0 ? undefined : measure)),
      ),
    );
    const leadOf = ({ document }: Made) => printXml({ ...document, root: onlyPart(document.root, lead) });
    expect(leadOf(once)).toBe(leadOf(written));
    expect(made(parseXml(once.text)).text).toBe(once.text);
  });
});

const onlyPart = (root: XmlElement, id: string): XmlElement => ({
  ...root,
  children: childrenNamed(root, "part").filter((part) => attributeOf(part, "id") === id),
});

import { expect, test } from "vitest";
import {
  arrangeScore,
  completeOptions,
  engravingCopy,
  Findings,
  parseXml,
  printXml,
} from "../../src/index.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";

const document = parseXml(
  leadSheetFromText(
    "title: Copper Kettle Lid\nkey: 0 major\ntime: 4/4\n\n[C] G4/4 C5/4 E5/2 | [F] A5/2 F5/2 ||\n",
  ),
);
const { document: guitarScore, report } = arrangeScore(document, completeOptions({}), new Findings());

test("every note has an id of its own, and the list says where it stands", () => {
  const { document: copy, notes } = engravingCopy(guitarScore, "both");
  const ids = [...printXml(copy).matchAll(/<note[^>]* id="([^"]+)"/g)].map(([, id]) => id);
  expect(new Set(ids).size).toBe(ids.length);
  expect(notes.map(({ id }) => id)).toEqual(ids);
  for (const { measure, beat } of report.events)
    expect(
      notes.some((note) => note.staff === "guitar" && note.measure === measure && note.onset === beat - 1),
    ).toBe(true);
});

test("fingers are in the list and no longer in the copy", () => {
  const { document: copy, notes } = engravingCopy(guitarScore, "both");
  expect(printXml(copy)).not.toContain("<fingering");
  const fingers = notes.filter(({ staff }) => staff === "guitar").flatMap(({ finger }) => finger ?? []);
  const inReport = report.events.flatMap(({ notes: all }) => all.filter(({ finger }) => finger > 0));
  expect(fingers.length).toBeGreaterThan(0);
  expect(fingers.length).toBeLessThanOrEqual(inReport.length);
});

test("the guitar alone is two parts with chord symbols; beside the lead sheet they are said once", () => {
  const count = (shown: "guitar" | "both" | "lead", what: RegExp) =>
    [...printXml(engravingCopy(guitarScore, shown).document).matchAll(what)].length;
  expect(count("guitar", /<part id/g)).toBe(2);
  expect(count("lead", /<part id/g)).toBe(1);
  expect(count("both", /<part id/g)).toBe(3);
  expect(count("both", /<harmony/g)).toBe(count("lead", /<harmony/g));
  expect(count("guitar", /<harmony/g)).toBeGreaterThan(0);
});

test("a guitar part in another key than the lead sheet says its own chord symbols beside it", () => {
  const { document: moved } = arrangeScore(
    document,
    completeOptions({ key: "D", leadKey: "written" }),
    new Findings(),
  );
  const text = printXml(engravingCopy(moved, "both").document);
  expect([...text.matchAll(/<harmony/g)]).toHaveLength(4);
});

test("chord symbols written on one beat stand where the guitar plays them, and the score keeps them as they came", () => {
  const stacked = parseXml(
    leadSheetFromText("title: Two Lids\nkey: 0 major\ntime: 4/4\n\n[C] [G] G4/1 | [F] A4/1 ||\n"),
  );
  const { document: arranged } = arrangeScore(stacked, completeOptions({}), new Findings());
  const symbols = (xml: string) =>
    [...xml.matchAll(/<root-step>(\w)<[\s\S]*?<\/harmony>/g)].map(([symbol, root]) => [
      root,
      /<offset>(\d+)/.exec(symbol)?.[1],
    ]);
  const lead = printXml(engravingCopy(arranged, "lead").document);
  const divisions = Number(/<divisions>(\d+)/.exec(lead)?.[1]);
  expect(symbols(lead)).toEqual([
    ["C", undefined],
    ["G", `${2 * divisions}`],
    ["F", undefined],
  ]);
  expect(symbols(printXml(arranged)).slice(0, 3)).toEqual(symbols(printXml(stacked)));
});

test("a brace around one part, or one that never ends, is not drawn; the bracket of the guitar's two staves is", () => {
  const braces = printXml(document).replace(
    /<score-part /,
    '<part-group type="start" number="1"><group-symbol>brace</group-symbol></part-group><part-group type="start" number="2"/>$&',
  );
  const braced = parseXml(
    braces.replace(
      "</score-part>",
      '$&<part-group type="stop" number="1"/><part-group type="stop" number="1"/>',
    ),
  );
  const { document: score } = arrangeScore(braced, completeOptions({}), new Findings());
  expect(printXml(score).match(/<part-group/g)).toHaveLength(6);
  const groups = (shown: "both" | "guitar" | "lead") =>
    printXml(engravingCopy(score, shown).document).match(/<part-group type="\w+"/g) ?? [];
  expect(groups("both")).toEqual(['<part-group type="start"', '<part-group type="stop"']);
  expect(groups("guitar")).toEqual(['<part-group type="start"', '<part-group type="stop"']);
  expect(groups("lead")).toEqual([]);
});

import { describe, expect, test, vi } from "vitest";
import { parseXml } from "../../src/xml/parse-xml.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { again, type Made, made } from "./edited.js";
import {
  type Change,
  changeNote,
  inTurn,
  withoutField,
  withoutFingers,
  withPitch,
  withPlace,
  withTechnical,
} from "./score-changes.js";

vi.mock("../../src/arranging/costs/cost-table.js", async (original) =>
  (await import("./plain-costs.js")).withPlainCosts(original),
);

const grace = (step: string, octave: number): string =>
  `<note><grace/><pitch><step>${step}</step><octave>${octave}</octave></pitch><voice>1</voice><type>eighth</type></note>`;

/** Before the first note of the second bar: a G4 and a B4. */
const TUNE = leadSheetFromText(`title: Moths at the Pane
key: 0 major
time: 4/4
tempo: 100

[C] E5/2 C5/2 | [F] C5/2 A4/2 | [G7] G4/2 F4/2 | [C] E4/1 ||`).replace(
  /(<measure number="2"[^>]*>.*?)(<note>)/s,
  `$1${grace("G", 4)}${grace("B", 4)}$2`,
);

const written: Made = made(parseXml(TUNE));
const graceAttacks = ({ attacks }: Made) => attacks.filter((attack) => attack.startsWith("2:1 0 "));

test("what was written is the score that the edits below speak of", () => {
  expect(graceAttacks(written)).toMatchInlineSnapshot(`
    [
      "2:1 0 67 2/8-1",
      "2:1 0 71 1/7-1",
    ]
  `);
  const back = again(written, (root) => root);
  expect(back.text).toBe(written.text);
  expect(back.said).toEqual([]);
});

describe("a grace note's own place and finger are kept, and nothing else moves", () => {
  test.each<[string, Change, readonly string[], readonly string[]]>([
    [
      "put on another string in the TAB",
      changeNote(["P3", 2, 1, "2/8"], withPlace(3, 12)),
      ["2:1 0 67 2/8-1"],
      ["2:1 0 67 3/12-4"],
    ],
    [
      "another finger in the notation",
      changeNote(["P2", 2, 1, "B4"], withTechnical({ fingering: 2 })),
      ["2:1 0 71 1/7-1"],
      ["2:1 0 71 1/7-2"],
    ],
    [
      "both of them changed",
      inTurn(
        changeNote(["P3", 2, 1, "2/8"], withPlace(1, 3)),
        changeNote(["P3", 2, 1, "1/7"], withPlace(3, 16)),
      ),
      ["2:1 0 67 2/8-1", "2:1 0 71 1/7-1"],
      ["2:1 0 67 1/3-1", "2:1 0 71 3/16-4"],
    ],
  ])("%s", (_, change, gone, come) => {
    const back = again(written, change);
    expect(back.gone).toEqual(gone);
    expect(back.come).toEqual(come);
    expect(back.said).toEqual(gone.map(() => "edit-kept 2:1"));
    const third = again(back, (root) => root);
    expect(third.attacks).toEqual(back.attacks);
    expect(third.said).toEqual([]);
  });

  test("where another texture is asked for, too", () => {
    const moved = changeNote(["P3", 2, 1, "2/8"], withPlace(3, 12));
    expect(graceAttacks(again(written, moved, { texture: "full" }))).toContain("2:1 0 67 3/12-4");
  });
});

test("without the record of what was written, too", () => {
  const back = again(written, inTurn(withoutField, changeNote(["P3", 2, 1, "2/8"], withPlace(3, 12))));
  expect(back.come).toEqual(["2:1 0 67 3/12-4"]);
});

test("fingers that a program drops come back", () => {
  const back = again(written, withoutFingers);
  expect(back.attacks).toEqual(written.attacks);
  expect(back.said).toEqual([]);
});

test("a place that does not sound the note of the lead sheet is not taken", () => {
  const back = again(written, changeNote(["P3", 2, 1, "2/8"], withPlace(2, 7)));
  expect(back.attacks).toEqual(written.attacks);
});

test("a grace note changed in the guitar's notation alone stays that of the lead sheet", () => {
  const back = again(written, changeNote(["P2", 2, 1, "G4"], withPitch("F4")));
  expect(back.attacks).toEqual(written.attacks);
});

import { describe, expect, test } from "vitest";
import { arrangeScore, completeOptions, Findings, parseXml, printXml } from "../../src/index.js";
import { readGuitarScore } from "../../src/musicxml/guitar-reading/read-guitar-part.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  childText,
  descendantAt,
  element,
  elementsOf,
  everyNamed,
  textOf,
  withElements,
  type XmlElement,
} from "../../src/xml/xml-tree.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import type { Support } from "../support/plain-arrangement.js";
import { isSchemaHere, schemaErrors } from "../support/schema.js";
import { harmony, leadSheet, note } from "../support/score-text.js";
import { firstPart, tabPart, writtenScore, writtenTune } from "../support/written-score.js";

/** G and C under a melody on string 1, fret 3, third finger. */
const UNDER_G = (from: number, to: number, finger: 1 | 2 = 1): readonly Support[] => [
  { pitch: "D4", string: 2, finger: 4, from, to },
  { pitch: "G#3", string: 3, finger, from, to },
];
const THIRD_FINGER = { string: 1, fret: 3, finger: 3 } as const;

/** Fingers of each note as they are printed, low to high not sorted; in brackets those only on record. */
function fingersOf(part: XmlElement): readonly string[] {
  return [...everyNamed(part, "note")].flatMap((one) =>
    childrenNamed(one, "notations").flatMap((notations) => {
      const fingering = descendantAt(notations, "technical", "fingering");
      if (fingering === undefined) return [];
      const isPrinted = attributeOf(notations, "print-object") !== "no";
      return [isPrinted ? textOf(fingering) : `(${textOf(fingering)})`];
    }),
  );
}

describe("Fingers", () => {
  test("are printed again only once the grip or a finger is another; all of them are on record", () => {
    const written = writtenTune("[C] G4/4 G4/4 G4/4 A4/4", {
      supports: [...UNDER_G(0, 1), ...UNDER_G(1, 2), ...UNDER_G(2, 3, 2)],
      places: [THIRD_FINGER, THIRD_FINGER, THIRD_FINGER, { string: 1, fret: 5, finger: 4 }],
    });
    expect(fingersOf(firstPart(written))).toEqual(
      ["3", "4", "1"].concat(["(3)", "(4)", "(1)"], ["3", "4", "2"], ["4"]),
    );
  });

  test("are printed again where a repeat begins, since the hand comes from elsewhere", () => {
    const written = writtenTune("[C] G4/2 G4/2 |: G4/2 G4/2 :|", { places: Array(4).fill(THIRD_FINGER) });
    expect(fingersOf(firstPart(written))).toEqual(["3", "(3)", "3", "(3)"]);
  });

  test("of a melody note that moves over a chord struck again are printed alone", () => {
    const written = writtenTune("[C] G4/4 A4/4 G4/2", {
      supports: [...UNDER_G(0, 1), ...UNDER_G(1, 2)],
      places: [THIRD_FINGER, { string: 1, fret: 5, finger: 4 }, THIRD_FINGER],
    });
    expect(fingersOf(firstPart(written))).toEqual(["3", "4", "1", "4", "(4)", "(1)", "3"]);
  });

  test("of a melody note that moves over a held chord are printed alone", () => {
    const written = writtenTune("[C] G4/4 A4/4 G4/2", {
      supports: UNDER_G(0, 4),
      places: [THIRD_FINGER, { string: 1, fret: 5, finger: 4 }, THIRD_FINGER],
    });
    expect(fingersOf(firstPart(written))).toEqual(["3", "4", "3", "4", "1"]);
  });

  test("of two voices stand on two sides of the staff; those of one voice where the engraver sets them", () => {
    const sides = (to: number) => {
      const written = writtenTune("[C] G4/2 A4/2", { supports: UNDER_G(0, to) });
      return new Set(
        [...everyNamed(firstPart(written), "note")].flatMap((one) => {
          const fingering = descendantAt(one, "notations", "technical", "fingering");
          const side = fingering && attributeOf(fingering, "placement");
          return fingering === undefined ? [] : [`${childText(one, "voice")} ${side}`];
        }),
      );
    };
    expect(sides(4)).toEqual(new Set(["1 above", "2 below"]));
    expect(sides(2)).toEqual(new Set(["1 undefined"]));
  });

  test("that stay are known where a program kept only what is printed", () => {
    const { root } = writtenTune("[C] G4/4 G4/4 A4/2", {
      supports: [...UNDER_G(0, 1), ...UNDER_G(1, 2)],
      places: [THIRD_FINGER, THIRD_FINGER, { string: 1, fret: 5, finger: 4 }],
    });
    const fingers = (score: XmlElement) =>
      readGuitarScore(score, { melody: "auto" }, new Findings()).notes.map(({ finger }) => finger);
    expect(fingers(root)).toEqual([1, 4, 3, 1, 4, 3, 4]);
    expect(fingers(withoutUnprinted(root))).toEqual(fingers(root));
  });
});

const withoutUnprinted = (parent: XmlElement): XmlElement =>
  withElements(parent, (child) =>
    child.name === "notations" && attributeOf(child, "print-object") === "no"
      ? undefined
      : withoutUnprinted(child),
  );

test("A number that is held over stands in parentheses in the TAB, once its tie has begun", () => {
  const written = writtenTune("[C] G4/2 A4/2~ | A4/1", { places: [THIRD_FINGER] });
  const heads = (part: XmlElement) =>
    [...everyNamed(part, "note")].map((one) => {
      const head = childNamed(one, "notehead");
      return head && attributeOf(head, "parentheses");
    });
  expect(heads(tabPart(written))).toEqual([undefined, undefined, "yes"]);
  expect(heads(firstPart(written))).toEqual([undefined, undefined, undefined]);
});

describe("Positions", () => {
  const words = (places: readonly (readonly [fret: number, finger: 1 | 2 | 3 | 4])[]) =>
    [
      ...everyNamed(
        firstPart(
          writtenTune("[C] C5/4 D5/4 C5/4 D5/4 | C5/4 D5/4 C5/4 D5/4", {
            places: places.map(([fret, finger]) => ({ string: 1, fret, finger })),
          }),
        ),
        "words",
      ),
    ].map(textOf);

  test("are said where the hand settles, and again after another one", () => {
    const fifth = [
      [5, 1],
      [7, 3],
      [8, 4],
    ] as const;
    const ninth = [
      [10, 2],
      [11, 3],
      [9, 1],
    ] as const;
    expect(words([...fifth, ...fifth])).toEqual(["V"]);
    expect(words([...fifth, ...ninth, [5, 1], [7, 3]])).toEqual(["V", "IX"]);
  });

  test("are not said in passing, nor in first position", () => {
    expect(
      words([
        [1, 1],
        [3, 3],
        [5, 1],
        [7, 3],
        [1, 1],
        [3, 3],
        [4, 4],
        [2, 2],
      ]),
    ).toEqual([]);
  });
});

describe("Two chord symbols on one beat", () => {
  const alternate = harmony("A", "minor").replace("<harmony", '<harmony type="alternate"');
  const lead = leadSheet(harmony("C") + alternate + note("G4", 16));
  const shown = (options: object) =>
    [...everyNamed(firstPart(writtenScore(lead, {}, options)), "harmony")].map((one) => [
      childText(childNamed(one, "root") ?? element("root"), "root-step"),
      attributeOf(one, "relative-y"),
    ]);

  test("are one over the guitar beside the lead sheet, which has both", () => {
    expect(shown({})).toEqual([["C", undefined]]);
  });

  test("stand one above the other where no lead sheet is left", () => {
    expect(shown({ lead: "drop" })).toEqual([
      ["C", undefined],
      ["A", "25"],
    ]);
  });
});

describe("Every note of the guitar", () => {
  const TUNE =
    "title: Nine Ladders\n\nD4/8 G4/8 |: [G] G4/2 A4/8t G4/8t F#4/8t E4/4 | [C] C5/2.~ C5/4 | [D7] C5/4 r/2 A4/4 :|";
  const idsIn = (root: XmlElement) =>
    [...everyNamed(root, "note")].map((one) => attributeOf(one, "id")).filter((id) => id !== undefined);

  test.each(["parts", "joined", "tab"])(
    "has an id of its own, the same when it is arranged again: %s",
    (staves) => {
      const options = completeOptions({ staves, lead: "drop" });
      const { document } = arrangeScore(parseXml(leadSheetFromText(TUNE)), options, new Findings());
      const ids = idsIn(document.root);
      expect(ids).toHaveLength([...everyNamed(document.root, "note")].length);
      expect(new Set(ids).size).toBe(ids.length);
      const again = arrangeScore(parseXml(printXml(document)), completeOptions({}), new Findings());
      expect(idsIn(again.document.root)).toEqual(ids);
    },
  );

  test("has one that no note of the lead sheet has", () => {
    const lead = parseXml(leadSheetFromText(TUNE).replace("<note>", '<note id="P2m1v1n1">'));
    const { root } = arrangeScore(lead, completeOptions({}), new Findings()).document;
    const ids = [...idsIn(root), ...childrenNamed(root, "part").map((part) => attributeOf(part, "id"))];
    expect(new Set(ids).size).toBe(ids.length);
    const parts = elementsOf(root).filter(({ name }) => name === "part");
    expect(parts.map((part) => attributeOf(part, "id"))).toEqual(["P1", "P3", "P4"]);
  });
});

test.runIf(isSchemaHere)("All this is valid MusicXML", () => {
  const written = writtenTune("[C] G4/4 G4/4 [Am] A4/2~ | A4/1", {
    supports: [...UNDER_G(0, 1), ...UNDER_G(1, 2), ...UNDER_G(2, 8)],
    places: [THIRD_FINGER, THIRD_FINGER],
  });
  expect(schemaErrors(written.text)).toBe("");
});

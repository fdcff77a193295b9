import { importer, Settings } from "@coderline/alphatab";
import { VerovioToolkit } from "verovio/esm";
import createVerovioModule from "verovio/wasm";
import { describe, expect, test } from "vitest";
import { Findings } from "../../src/diagnostics.js";
import { readGuitarScore } from "../../src/musicxml/guitar-reading/read-guitar-part.js";
import { attributeOf, childText, everyNamed, type XmlElement } from "../../src/xml/xml-tree.js";
import type { PlainWishes } from "../support/plain-arrangement.js";
import { isSchemaHere, schemaErrors } from "../support/schema.js";
import { attributes, FOUR_FOUR, harmony, leadSheet, note } from "../support/score-text.js";
import { staffText } from "../support/staff-text.js";
import {
  firstPart,
  tabPart,
  type WrittenScore,
  writtenScore,
  writtenTune,
} from "../support/written-score.js";

const C = { pitch: "C4", string: 4, finger: 3, from: 0, to: 4 } as const;
/** The melody's G on string 2, which rings on under the C on string 1. */
const PLACES = [
  { string: 2, fret: 8, finger: 1 },
  { string: 1, fret: 8, finger: 1 },
  { string: 1, fret: 5, finger: 1 },
] as const;
const G = { pitch: "G4", string: 2, finger: 1, from: 1, to: 2, leftByMelody: 0 } as const;

const rising = (options: object = {}): WrittenScore =>
  writtenTune("[C] G4/4 C5/4 A4/2", { supports: [C, G], places: PLACES }, options);

/** The ties of a part that lead to no note, by their notes: "G quarter". */
const leftRinging = (part: XmlElement): readonly string[] =>
  everyNamed(part, "note")
    .flatMap((one) =>
      everyNamed(one, "tied").flatMap((tied) => (attributeOf(tied, "type") === "let-ring" ? [one] : [])),
    )
    .map(
      (one) =>
        `${everyNamed(one, "pitch").map((pitch) => `${childText(pitch, "step")}`)} ${childText(one, "type")}`,
    );

describe("A melody note that rings on under the next", () => {
  test("has a tie that leads to no note, on both staves, and is not written twice", () => {
    const written = rising();
    expect(staffText(firstPart(written))).toEqual(["G4:quarter C5:quarter A4:half / C4:whole"]);
    expect(leftRinging(firstPart(written))).toEqual(["G quarter"]);
    expect(leftRinging(tabPart(written))).toEqual(["G quarter"]);
  });

  test("has it on its last piece where it is tied over the barline", () => {
    const written = writtenTune("[C] G4/1~ | G4/2 C5/2", {
      supports: [
        { ...C, to: 8 },
        { ...G, from: 6, to: 8 },
      ],
      places: PLACES,
    });
    expect(leftRinging(firstPart(written))).toEqual(["G half"]);
  });

  test("has one, where the lead sheet has such a tie too, and keeps that where it does not ring on", () => {
    const lead = leadSheet(
      attributes(FOUR_FOUR) +
        harmony("C", "major") +
        note("G4", 8, { after: '<notations><tied type="let-ring"/></notations>' }) +
        note("C5", 8),
    );
    const ties = (wishes: PlainWishes) => leftRinging(firstPart(writtenScore(lead, wishes)));
    expect(ties({ places: PLACES })).toEqual(["G half"]);
    expect(
      ties({
        places: PLACES,
        supports: [
          { ...C, to: 4 },
          { ...G, from: 2, to: 4 },
        ],
      }),
    ).toEqual(["G half"]);
  });

  test("is read back as one attack that rings on", () => {
    for (const staves of ["parts", "joined", "tab"]) {
      const { root } = rising({ staves, lead: "drop" });
      const { notes } = readGuitarScore(root, { melody: "auto" }, new Findings());
      expect(notes.filter(({ midi }) => midi === 67)).toMatchObject([{ isLeftRinging: true }]);
      expect(notes.filter(({ isLeftRinging }) => isLeftRinging)).toHaveLength(1);
    }
  });

  test.skipIf(!isSchemaHere)("is valid", () => {
    expect(schemaErrors(rising().text)).toBe("");
  });

  test("is drawn with its tie by one open engraver and has its rhythm in the other", async () => {
    const { text } = rising({ lead: "drop" });
    const verovio = new VerovioToolkit(await createVerovioModule());
    verovio.loadData(text);
    expect(verovio.getMEI().match(/<lv\b/g)).toHaveLength(2);
    const { tracks } = importer.ScoreLoader.loadScoreFromBytes(
      new TextEncoder().encode(text),
      new Settings(),
    );
    const [first] = tracks[0]?.staves[0]?.bars[0]?.voices ?? [];
    expect(first?.beats.map(({ notes }) => notes.map(({ realValue }) => realValue))).toEqual([
      [67],
      [72],
      [69],
    ]);
  });
});

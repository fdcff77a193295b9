import { describe, expect, test } from "vitest";
import { attributeOf, childText, elementsOf, everyNamed } from "../../src/xml/xml-tree.js";
import { attributes, FOUR_FOUR, harmony, leadSheet, note, rest, score } from "../support/score-text.js";
import { staffText, tabText } from "../support/staff-text.js";
import { firstPart, tabPart, writtenScore, writtenTune } from "../support/written-score.js";

const C = { pitch: "C4", string: 3, finger: 1 } as const;
const E = { pitch: "E3", string: 4, finger: 2 } as const;

describe("Supporting notes that last as long as the melody note", () => {
  test("stand in its chord, the melody first and then from the top down", () => {
    const written = writtenTune("[C] G4/2 E4/2", {
      supports: [
        { ...E, from: 0, to: 2 },
        { ...C, from: 0, to: 2 },
      ],
    });
    expect(staffText(firstPart(written))).toEqual(["G4+C4+E3:half E4:half"]);
  });

  test("are tied with it over the barline, each written note with the whole chord", () => {
    const written = writtenTune("[C] G4/1~ | G4/2 E4/2", { supports: [{ ...C, from: 0, to: 6 }] });
    expect(staffText(firstPart(written))).toEqual(["G4~+C4~:whole", "G4+C4:half E4:half"]);
    expect(staffText(tabPart(written))).toEqual(staffText(firstPart(written)));
  });
});

describe("A second voice", () => {
  test("holds what rings on under a moving melody", () => {
    const written = writtenTune("[C] G4/4 A4/4 G4/2", { supports: [{ ...C, from: 0, to: 4 }] });
    expect(staffText(firstPart(written))).toEqual(["G4:quarter A4:quarter G4:half / C4:whole"]);
  });

  test("has the chord that is struck under a held melody note, after a gap", () => {
    const written = writtenTune("[C] G4/1", {
      supports: [
        { ...C, from: 0, to: 2 },
        { pitch: "B3", string: 3, from: 2, to: 4 },
      ],
    });
    expect(staffText(firstPart(written))).toEqual(["G4:whole / C4:half B3:half"]);
    const late = writtenTune("[C] G4/1", { supports: [{ ...C, from: 1, to: 4 }] });
    expect(staffText(firstPart(late))).toEqual(["G4:whole / _1 C4:half."]);
  });

  test("has what lies under a note of its own, although that lasts as long as the melody note", () => {
    const written = writtenTune("[C] G4/2 A4/2", {
      supports: [
        { pitch: "C4", string: 3, from: 0, to: 1 },
        { pitch: "B3", string: 3, from: 1, to: 2 },
        { ...E, from: 0, to: 2 },
        { ...E, from: 2, to: 4 },
      ],
    });
    expect(staffText(firstPart(written))).toEqual(["G4:half A4+E3:half / C4+E3~:quarter B3+E3:quarter _2"]);
    const over = writtenTune("[C] G4/2 A4/2", {
      supports: [
        { ...E, from: 0, to: 4 },
        { ...C, from: 0, to: 2 },
      ],
    });
    expect(staffText(firstPart(over))).toEqual(["G4+C4:half A4:half / E3:whole"]);
  });

  test("is split and tied at the barline and where one of its notes ends before the others", () => {
    const written = writtenTune("[C] G4/4 A4/4 G4/2 | A4/2 G4/2", {
      supports: [
        { ...C, from: 2, to: 6 },
        { ...E, from: 2, to: 8 },
      ],
    });
    expect(staffText(firstPart(written))).toEqual([
      "G4:quarter A4:quarter G4:half / _2 C4~+E3~:half",
      "A4:half G4:half / C4+E3~:half E3:half",
    ]);
  });

  test("shows the middle of the bar, and keeps a dotted half note on the second beat whole", () => {
    const syncopated = writtenTune("[C] G4/8 A4/4 G4/4 A4/4 G4/8", {
      supports: [{ ...C, from: 0.5, to: 2.5 }],
    });
    expect(staffText(firstPart(syncopated))[0]).toContain("/ _0.5 C4~:quarter. C4:eighth _1.5");
    const whole = writtenTune("[C] G4/4 A4/2.", {
      supports: [
        { ...C, from: 1, to: 4 },
        { ...E, from: 1, to: 2 },
      ],
    });
    expect(staffText(firstPart(whole))[0]).toBe("G4:quarter A4+C4:half. / _1 E3:quarter _2");
  });

  test("in a tuplet is written in that tuplet, filled with hidden rests", () => {
    const written = writtenTune("[C] G4/8t A4/8t G4/8t E4/2.", { supports: [{ ...C, from: 1 / 3, to: 4 }] });
    expect(staffText(firstPart(written))).toEqual([
      "G4:eighth(3)< A4:eighth(3) G4:eighth(3)> E4:half. / (r):eighth(3)< C4~:quarter(3)> C4:half.",
    ]);
  });

  test("over a whole tuplet needs no tuplet of its own", () => {
    const written = writtenTune("[C] G4/8t A4/8t G4/8t E4/2.", { supports: [{ ...C, from: 0, to: 2 }] });
    expect(staffText(firstPart(written))[0]).toMatch(/\/ C4:half _2$/);
  });

  test("points down and the melody up, where there are two; else the stems are left to the program", () => {
    const stems = (supportsEnd: number) => {
      const written = writtenTune("[C] G4/2 A4/2", { supports: [{ ...C, from: 0, to: supportsEnd }] });
      return [...everyNamed(firstPart(written), "note")].map((one) => childText(one, "stem"));
    };
    expect(stems(4)).toEqual(["up", "up", "down"]);
    expect(stems(2)).toEqual([undefined, undefined, undefined]);
  });
});

describe("Values of the melody", () => {
  test("are derived where the lead sheet states none, cut and tied where one is not enough", () => {
    const lead = leadSheet(harmony("C") + note("G4", 10, { type: "" }) + note("A4", 6, { type: "" }));
    expect(staffText(firstPart(writtenScore(lead)))).toEqual(["G4~:half G4:eighth A4:quarter."]);
  });

  test("follow the duration where the type contradicts it", () => {
    const lead = leadSheet(harmony("C") + note("G4", 8, { type: "<type>quarter</type>" }) + note("A4", 8));
    expect(staffText(firstPart(writtenScore(lead)))).toEqual(["G4:half A4:half"]);
  });

  test("in a tuplet without type get one that fits the tuplet", () => {
    const third = (name: string) =>
      note(name, 4, {
        type: "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>",
      });
    const bar =
      attributes(FOUR_FOUR, 12) +
      harmony("C") +
      third("G4") +
      third("A4") +
      third("B4") +
      note("C5", 36, { type: "<type>half</type><dot/>" });
    const written = writtenScore(score([{ bars: [bar] }]));
    expect(staffText(firstPart(written))).toEqual(["G4:eighth(3)< A4:eighth(3) B4:eighth(3)> C5:half."]);
  });

  test("A rest stays a rest, and a measure without anything becomes a bar rest", () => {
    const written = writtenScore(leadSheet(harmony("C") + note("G4", 8) + rest(8), "", note("A4", 16)));
    expect(staffText(firstPart(written))).toEqual(["G4:half r:half", "R:whole", "A4:whole"]);
    expect(staffText(tabPart(written))).toEqual(["G4:half (r):half", "(R):whole", "A4:whole"]);
  });

  test("A pickup stays as short as it is and keeps its number", () => {
    const written = writtenTune("E4/4 |: [C] G4/1 :|");
    expect(staffText(firstPart(written))).toEqual(["E4:quarter", "G4:whole"]);
    const [pickup] = [...everyNamed(firstPart(written), "measure")];
    expect(pickup && [attributeOf(pickup, "number"), attributeOf(pickup, "implicit")]).toEqual(["0", "yes"]);
  });

  test("Grace notes stay before their note, fingered and placed, and the chord symbol on the beat", () => {
    const grace = note("F#4", "", { before: '<grace slash="yes"/>', type: "<type>eighth</type>" });
    const written = writtenScore(leadSheet(harmony("C") + grace + note("G4", 16)));
    expect(staffText(firstPart(written))).toEqual(["'F#4:eighth G4:whole"]);
    expect(tabText(tabPart(written))).toEqual(["1/2", "1/3"]);
    const [measure] = [...everyNamed(firstPart(written), "measure")];
    expect(measure && elementsOf(measure).map(({ name }) => name)).toEqual([
      "attributes",
      "note",
      "harmony",
      "note",
    ]);
  });
});

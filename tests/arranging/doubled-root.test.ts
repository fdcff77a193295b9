import { describe, expect, test } from "vitest";
import { struckGrips } from "../../src/arranging/candidates/struck-grips.js";
import { COSTS } from "../../src/arranging/costs/cost-table.js";
import { midiAt } from "../../src/guitar/instrument.js";
import { shapeOf, shapesUnder } from "../../src/harmony/shapes/shape-table.js";
import { supportPlan } from "../../src/harmony/support-plan.js";
import { chordNamed } from "../support/chord-named.js";
import { GUITAR, gripFrom } from "../support/guitar.js";

/** What the easiest fingers for a grip cost; undefined where it is not looked at. */
function costOf(symbol: string, diagram: string): number | undefined {
  const { strings } = gripFrom(diagram);
  const melody = strings.at(-1);
  if (melody === undefined) throw new Error(diagram);
  const midi = midiAt(GUITAR, melody.string, melody.fret);
  const plan = supportPlan(chordNamed(symbol), midi % 12, "auto");
  const grips = struckGrips({ instrument: GUITAR, melodyStrings: [1, 2, 3] }, midi, plan, COSTS);
  return grips.find((grip) => JSON.stringify(grip.strings) === JSON.stringify(strings))?.cost;
}

// The chords of a first book: root below and on top, third and seventh or sixth between, no fifth. Common practice.
describe.each([
  ["C7", "x 3 2 3 1 x", "3 x 2 3 1 x"],
  ["Cm7", "x 3 1 3 1 x", "3 x 1 3 1 x"],
  ["F6", "x 8 7 7 6 x", "x 5 7 5 6 x"],
])("%s at %s", (symbol, withRoot, withFifth) => {
  test(`is a grip, and cheaper than ${withFifth}`, () => {
    expect(costOf(symbol, withRoot)).toBeLessThan(costOf(symbol, withFifth) ?? 0);
  });
});

test("a root below and on top takes the place of ninths and thirteenths, never of third, seventh or sixth", () => {
  expect(costOf("G6/9", "3 x 2 4 3 3")).toBeUndefined();
  expect(costOf("G6/9", "x x 5 4 5 3")).toBeDefined();
  expect(costOf("C13", "x 3 2 3 1 x")).toBeDefined();
  expect(costOf("C13", "x 3 5 3 1 x")).toBeUndefined();
});

test("a seventh on top is there once more in a full chord alone", () => {
  expect(costOf("D7", "x 5 7 5 7 8")).toBeDefined();
  expect(costOf("D7", "x x 7 5 7 8")).toBeUndefined();
});

test("a triad may have its root below and on top without its fifth, but not without its third", () => {
  expect(costOf("F", "x 8 7 10 x x")).toBeDefined();
  expect(costOf("F", "x 8 10 10 x x")).toBeUndefined();
});

test("a third or seventh on top may be there below too where nothing but the fifth is missing", () => {
  expect(costOf("Dm7", "x 5 3 5 6 x")).toBeDefined();
  expect(costOf("D7", "x 9 10 7 7 x")).toBeDefined();
  expect(costOf("A7", "5 x 5 6 8 x")).toBeDefined();
  // Without the root; without the seventh; with the root twice as well.
  expect(costOf("D7", "x 9 10 x 7 x")).toBeUndefined();
  expect(costOf("D7", "x 9 x 7 7 x")).toBeUndefined();
  expect(costOf("Dm7", "x 5 3 7 6 x")).toBeUndefined();
});

test("a root is doubled for no other missing tone, nor inside a grip", () => {
  // Without its third; with the root between fifth and seventh.
  expect(costOf("C7", "x 3 5 3 1 x")).toBeUndefined();
  expect(costOf("C7", "x x 2 5 1 x")).toBeUndefined();
});

test("the bass that a symbol names may stand under its own tone where the root is missing", () => {
  expect(costOf("C7/G", "x x 5 3 5 3")).toBeLessThan(costOf("C7/G", "x 3 2 3 x 3") ?? 0);
  expect(costOf("C7", "x x 5 3 5 3")).toBeUndefined();
  expect(costOf("E/F", "x x 3 1 0 1")).toBeDefined();
});

test("a third is doubled by the melody alone", () => {
  expect(costOf("F", "x x 7 10 10 10")).toBeUndefined();
  expect(costOf("F", "x 8 7 5 10 x")).toBeDefined();
});

// The full chords of a first book, open and barred. Common practice.
describe.each([
  ["Am", "x 0 2 2 1 0"],
  ["C", "x 3 2 0 1 0"],
  ["Dm", "x 5 7 7 6 5"],
  ["F", "x 8 10 10 10 8"],
])("the full chord of %s at %s", (symbol, diagram) => {
  test("is a grip, known by the shape that it has over its root", () => {
    expect(costOf(symbol, diagram)).toBeDefined();
    const { strings } = gripFrom(diagram);
    const midis = strings.map(({ string, fret }) => midiAt(GUITAR, string, fret));
    const shapes = shapesUnder(chordNamed(symbol), (midis.at(-1) ?? 0) % 12);
    expect(shapeOf(shapes, strings, midis)).toEqual({
      ...shapeOf(shapes, strings.slice(1), midis.slice(1)),
      lowest: "1",
    });
  });
});

test("the full chord of a seventh is the shape on its root with the fifth in it", () => {
  const shapeAt = (diagram: string) => {
    const { strings } = gripFrom(diagram);
    const midis = strings.map(({ string, fret }) => midiAt(GUITAR, string, fret));
    return shapeOf(shapesUnder(chordNamed("D7"), (midis.at(-1) ?? 0) % 12), strings, midis);
  };
  expect(costOf("D7", "x 5 7 5 7 5")).toBeDefined();
  expect(shapeAt("x 5 7 5 7 5")).toEqual(shapeAt("x 5 x 5 7 5"));
  expect(shapeAt("x 5 7 5 7 5")?.lowest).toBe("1");
});

test.each([
  ["Am7", "5 x 5 5 5 8"],
  ["C7", "8 x 8 9 8 8"],
  ["G", "3 x 0 0 0 3"],
])("the finger on the lowest string damps the one above it: %s at %s", (symbol, diagram) => {
  expect(costOf(symbol, diagram)).toBeDefined();
});

test.each([
  ["another lowest note than the root", "C", "3 3 2 0 1 x"],
  ["a chord without a fifth of its own", "Bdim", "x 2 3 4 3 1"],
  ["strings that lie apart", "G", "3 2 x 0 0 3"],
])("five notes are too many for %s", (_, symbol, diagram) => {
  expect(costOf(symbol, diagram)).toBeUndefined();
});

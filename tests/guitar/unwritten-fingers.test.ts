import { describe, expect, test } from "vitest";
import { chordsDbShapes } from "../../measure/fingered-chord.js";
import { isUnwritten } from "../../src/guitar/unwritten-fingers.js";
import { GUITAR, gripFrom } from "../support/guitar.js";

const isLeftOut = (diagram: string, instrument = GUITAR): boolean => {
  const { strings, fingers } = gripFrom(diagram);
  return isUnwritten(instrument, strings, fingers);
};

describe("nobody holds", () => {
  test.each([
    ["four strings of one fret with a finger each", "x x 5:1 5:2 5:3 5:4"],
    ["three at the lowest fret with a finger each under a fourth", "x x 5:1 5:2 5:3 6:4"],
    ["another finger beside a barre of the index", "x x 5:1 5:1 5:1 5:2"],
    ["the middle finger at the fret of the index, round a barre in front of both", "x 6:1 8:3 8:3 8:3 6:2"],
    ["a higher finger on the lower string at one fret", "x 1:1 x 3:4 3:3 x"],
    ["a barre of another finger with nothing behind it", "x x 5:3 5:3 5:3 5:3"],
    ["a barre of the ring finger behind the little finger", "x x 5:3 6:4 5:3 5:3"],
    ["a barre of the little finger across a silent string", "x x 8:4 x 8:4 6:2"],
  ])("%s", (_, diagram) => {
    expect(isLeftOut(diagram)).toBe(true);
  });
});

describe("people hold", () => {
  test.each([
    ["four strings of one fret under one finger", "x x 5:1 5:1 5:1 5:1"],
    ["three strings of one fret alone, with a finger each", "x x 7:1 7:2 7:3 x"],
    ["and beside open ones", "x 0 2:1 2:2 2:3 0"],
    ["a barre in front of a barre", "x 6:1 8:3 8:3 8:3 6:1"],
    ["another finger beside a barre in front of the index", "x 3:1 5:3 5:3 5:3 5:4"],
    ["two fingers at the lowest fret of a diminished seventh", "x x 1:1 2:3 1:2 2:4"],
  ])("%s", (_, diagram) => {
    expect(isLeftOut(diagram)).toBe(false);
  });
});

test("a hand that is not to bar puts a finger on each string", () => {
  expect(isLeftOut("x x 5:1 5:2 5:3 6:4", { ...GUITAR, barres: "none" })).toBe(false);
  expect(isLeftOut("x 1:1 x 3:4 3:3 x", { ...GUITAR, barres: "none" })).toBe(true);
});

// The open collection chords-db.
test("of fingers that people entered hardly any is left out", () => {
  const entered = chordsDbShapes();
  const leftOut = entered.filter(({ strings, fingers }) => isUnwritten(GUITAR, strings, fingers));
  expect({ entered: entered.length, leftOut: leftOut.length }).toEqual({ entered: 2056, leftOut: 13 });
});

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { barresOf, fingeringsOf, isHoldable, type SoundingString } from "../../src/guitar/fingering.js";
import type { Finger } from "../../src/guitar/grip.js";
import { GUITAR, gripFrom } from "../support/guitar.js";

const canHold = (diagram: string, instrument = GUITAR): boolean => {
  const { strings, fingers } = gripFrom(diagram);
  const isListed = fingeringsOf(instrument, strings).some((one) => one.join() === fingers.join());
  expect(isHoldable(instrument, strings, fingers), "both ways of asking agree").toBe(isListed);
  return isListed;
};

describe("a hand can hold", () => {
  test.each([
    ["a four-finger seventh chord", "x x 5:2 4:1 5:3 7:4"],
    ["two fingers side by side at one fret", "x x 2:1 2:2 x x"],
    ["two fingers side by side, the higher one on the lower string", "x x 2:2 2:1 x x"],
    ["the F barre, three fingers in front of the index", "1:1 3:3 3:4 2:2 1:1 1:1"],
    ["a ring finger across three strings", "x 0 2:3 2:3 2:3 0"],
    ["a barre with an open string below it", "0 x x 5:1 5:1 5:1"],
    ["five frets at the nut between index and little finger", "x x 1:1 x 5:4 x"],
    ["open strings alone", "0 0 0 x x x"],
  ])("%s", (_, diagram) => {
    expect(canHold(diagram)).toBe(true);
  });
});

describe("no hand can hold", () => {
  test.each([
    ["one finger at two frets", "x x 2:1 3:1 x x"],
    ["the middle finger behind the index", "x x 2:2 3:1 x x"],
    ["a stopped note without a finger", "x x 2:0 3:1 x x"],
    ["an open string with a finger", "x x 0:1 3:2 x x"],
    ["an open string under a barre", "x x 2:1 0 2:1 x"],
    ["a lower fret under a barre", "x x 3:2 2:1 3:2 x"],
    ["a middle finger across four strings", "x 4:2 4:2 4:2 4:2 x"],
    ["six frets at the nut", "x x 1:1 x 6:4 x"],
    ["three frets at the nut between middle and ring finger", "x x 1:2 x 4:3 x"],
  ])("%s", (_, diagram) => {
    expect(canHold(diagram)).toBe(false);
  });
});

test("six frets that are out of reach at the nut are in reach at the seventh fret", () => {
  expect(canHold("x x 1:1 x 6:4 x")).toBe(false);
  expect(canHold("x x 7:1 x 12:4 x")).toBe(true);
});

test("a capo brings a reach within the hand, for the frets beyond it are narrower", () => {
  expect(canHold("x x 1:1 x 6:4 x", { ...GUITAR, capo: 4 })).toBe(true);
});

describe("a hand that is not to bar", () => {
  const noBarre = { ...GUITAR, barres: "none" } as const;
  const partial = { ...GUITAR, barres: "partial" } as const;

  test("holds neighbours at one fret with two fingers, never with one", () => {
    expect(canHold("x x 2:1 2:2 2:3 x", noBarre)).toBe(true);
    expect(canHold("x x x 2:1 2:1 x", noBarre)).toBe(false);
    expect(canHold("x x x 2:1 2:1 x", partial)).toBe(true);
  });

  test("or only a little lays the index finger across three strings, and no other", () => {
    expect(canHold("x x x 5:1 5:1 5:1", partial)).toBe(true);
    expect(canHold("x x 5:1 5:1 5:1 5:1", partial)).toBe(false);
    expect(canHold("x x x 5:1 7:3 7:3", partial)).toBe(false);
    expect(canHold("x x x 5:1 7:3 7:3")).toBe(true);
  });
});

test("a hand that is to use a share of its reach holds what lies within that share", () => {
  // Between frets 1 and 4 are 98 mm of 127; between 5 and 8 they are 77.
  expect(canHold("x x 1:1 x 4:4 x", { ...GUITAR, reach: 0.8 })).toBe(true);
  expect(canHold("x x 1:1 x 4:4 x", { ...GUITAR, reach: 0.65 })).toBe(false);
  expect(canHold("x x 5:1 x 8:4 x", { ...GUITAR, reach: 0.65 })).toBe(true);
});

test("a small hand does not reach what an average one does, and a large one reaches further", () => {
  expect(canHold("x x 1:1 x 5:4 x", { ...GUITAR, handSize: 0.85 })).toBe(false);
  expect(canHold("x x 1:1 x 6:4 x", { ...GUITAR, handSize: 1.15 })).toBe(false);
  expect(canHold("x x 3:1 x 8:4 x", { ...GUITAR, handSize: 1 })).toBe(false);
  expect(canHold("x x 3:1 x 8:4 x", { ...GUITAR, handSize: 1.15 })).toBe(true);
});

test("a barre reaches from its lowest to its highest string, whatever lies between", () => {
  const { strings, fingers } = gripFrom("x 5:1 7:3 5:1 6:2 5:1");
  expect(barresOf(strings, fingers)).toEqual([{ finger: 1, fret: 5, from: 5, to: 1 }]);
});

test("two barres at once are both found, index first", () => {
  const { strings, fingers } = gripFrom("x 12:1 14:3 14:3 14:3 12:1");
  expect(barresOf(strings, fingers)).toEqual([
    { finger: 1, fret: 12, from: 5, to: 1 },
    { finger: 3, fret: 14, from: 4, to: 2 },
  ]);
});

/** Some strings with some frets, within a dozen frets of each other or not. */
const placements = fc.subarray([6, 5, 4, 3, 2, 1], { minLength: 1, maxLength: 5 }).chain((numbers) =>
  fc
    .tuple(
      fc.integer({ min: 1, max: 12 }),
      fc.array(fc.integer({ min: -1, max: 5 }), { minLength: 5, maxLength: 5 }),
    )
    .map(([place, offsets]): SoundingString[] =>
      numbers.map((string, index) => ({
        string,
        fret: (offsets[index] ?? -1) < 0 ? 0 : place + (offsets[index] ?? 0),
      })),
    ),
);

const oneHold = (count: number): Finger[][] =>
  count === 0
    ? [[]]
    : oneHold(count - 1).flatMap((held) => ([0, 1, 2, 3, 4] as const).map((finger) => [...held, finger]));

/** The rules said once more, each by itself and without regard to speed. Reaches in mm at 650 mm. */
const REACH_MM = [[], [0, 0, 80, 108, 127], [0, 0, 0, 75, 108], [0, 0, 0, 0, 73]];
const WIDEST_BARRE = [0, 6, 3, 4, 3];
const placeMm = (fret: number): number => 650 * (1 - 2 ** (-fret / 12));

function obeysTheRules(strings: readonly SoundingString[], fingers: readonly Finger[]): boolean {
  const notes = strings.map((note, index) => ({ ...note, finger: fingers[index] ?? 0 }));
  const pairs = notes
    .flatMap((one) => notes.map((other) => [one, other] as const))
    .filter(([one, other]) => one !== other);
  const stopped = pairs.filter(([one, other]) => one.fret > 0 && other.fret > 0);
  return (
    notes.every((note) => note.finger > 0 === note.fret > 0) &&
    stopped.every(([one, other]) => one.fret >= other.fret || one.finger < other.finger) &&
    stopped.every(
      ([one, other]) =>
        one.fret >= other.fret ||
        placeMm(other.fret) - placeMm(one.fret) <= (REACH_MM[one.finger]?.[other.finger] ?? 0),
    ) &&
    stopped.every(
      ([one, other]) =>
        one.finger !== other.finger ||
        (Math.abs(one.string - other.string) < (WIDEST_BARRE[one.finger] ?? 0) &&
          notes.every(
            (note) => (note.string - one.string) * (note.string - other.string) >= 0 || note.fret >= one.fret,
          )),
    )
  );
}

test("the fingerings found are those among all assignments of fingers that obey the rules", () => {
  fc.assert(
    fc.property(placements, (strings) => {
      const expected = oneHold(strings.length).filter((fingers) => obeysTheRules(strings, fingers));
      const sorted = (all: readonly (readonly Finger[])[]): string[] =>
        all.map((one) => one.join("")).toSorted();
      expect(sorted(fingeringsOf(GUITAR, strings))).toEqual(sorted(expected));
      const held = oneHold(strings.length).filter((fingers) => isHoldable(GUITAR, strings, fingers));
      expect(sorted(held)).toEqual(sorted(expected));
    }),
    { numRuns: 150 },
  );
});

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { COSTS } from "../../src/arranging/costs/cost-table.js";
import { fingeringsOf } from "../../src/guitar/fingering.js";
import { holdingEffort } from "../../src/guitar/hand-effort.js";
import type { Instrument } from "../../src/guitar/instrument.js";
import { GUITAR, gripFrom } from "../support/guitar.js";

const effortOf = (diagram: string, instrument: Instrument = GUITAR): number => {
  const { strings, fingers } = gripFrom(diagram);
  return holdingEffort(instrument, strings, fingers, COSTS.hand);
};

/** The fingers that the hand would take for the strings and frets of a diagram. */
const fingersChosen = (diagram: string): string => {
  const { strings } = gripFrom(diagram);
  const ways = fingeringsOf(GUITAR, strings).map((fingers) => ({
    fingers,
    effort: holdingEffort(GUITAR, strings, fingers, COSTS.hand),
  }));
  const [best] = ways.toSorted((a, b) => a.effort - b.effort);
  return best?.fingers.join("") ?? "";
};

const fingersWritten = (diagram: string): string => gripFrom(diagram).fingers.join("");

describe("the hand takes the fingers that are printed for", () => {
  // Sor, op. 35 no. 22, Mutopia edition (Simrock 1828), bars 1 and 5, and the predefined shapes of
  // LilyPond (C. Sorensen).
  test.each([
    ["Sor, bar 5", "x x 4:3 3:2 2:1 x"],
    ["F", "1:1 3:3 3:4 2:2 1:1 1:1"],
    ["B flat minor", "x 1:1 3:3 3:4 2:2 1:1"],
    ["B flat major seventh", "x 1:1 3:3 2:2 3:4 x"],
    ["B flat diminished", "x 1:1 2:2 3:4 2:3 x"],
  ])("%s", (_, diagram) => {
    expect(fingersChosen(diagram)).toBe(fingersWritten(diagram));
  });

  // Closed shapes as most entries of the open collection chords-db finger them.
  test.each([
    ["m7b5 on 5432", "x 5:1 6:3 5:2 6:4 x"],
    ["m7 on 4321", "x x 6:2 6:3 5:1 7:4"],
    ["dominant seventh on 4321, second inversion", "x x 5:1 5:1 5:1 6:2"],
    ["m6 on 4321", "x x 6:2 6:3 5:1 6:4"],
    ["minor major seventh on 4321", "x x 5:1 7:3 7:4 6:2"],
  ])("%s", (_, diagram) => {
    expect(fingersChosen(diagram)).toBe(fingersWritten(diagram));
  });
});

test("equal frets go to the lower string's finger first", () => {
  expect(effortOf("x x 5:2 4:1 5:3 x")).toBeLessThan(effortOf("x x 5:3 4:1 5:2 x"));
});

test("a finger a fret is easier than a stretch, and the same stretch easier up the neck", () => {
  expect(effortOf("x 3:1 4:2 5:3 x x")).toBeLessThan(effortOf("x 3:1 4:2 6:3 x x"));
  expect(effortOf("x 7:1 8:2 10:3 x x")).toBeLessThan(effortOf("x 1:1 2:2 4:3 x x"));
});

test("a wide last step is easier for the little finger than for the ring finger", () => {
  expect(effortOf("x x 5:1 5:1 5:1 8:4")).toBeLessThan(effortOf("x x 5:1 5:1 5:1 8:3"));
});

test("an open string above a barre makes it harder, for its tip must stay clear", () => {
  expect(effortOf("x x 5:1 5:1 x x")).toBeLessThan(effortOf("x x 5:1 5:1 x 0"));
});

test("a small hand works harder at a wide grip than a large one", () => {
  const wide = "x 1:1 2:2 x 4:4 x";
  expect(effortOf(wide, { ...GUITAR, handSize: 1.15 })).toBeLessThan(
    effortOf(wide, { ...GUITAR, handSize: 0.85 }),
  );
});

test("a grip of four fingers at ease costs tens of points, a hard one three times as much", () => {
  const ease = effortOf("x x 6:2 5:1 6:3 7:4");
  expect(ease).toBeGreaterThanOrEqual(20);
  expect(ease).toBeLessThanOrEqual(50);
  expect(effortOf("x 2:1 4:2 6:4 5:3 x")).toBeGreaterThan(3 * ease);
});

test("with frets of equal width the effort of a grip is the same all along the neck", () => {
  const neck: Instrument = {
    ...GUITAR,
    frets: 24,
    fretSpacing: "equal",
    hasOpenStrings: false,
    bodyFret: 24,
  };
  const frets = fc.array(fc.integer({ min: 0, max: 3 }), { minLength: 2, maxLength: 4 });
  fc.assert(
    fc.property(frets, fc.integer({ min: 4, max: 12 }), (offsets, place) => {
      const at = (lowest: number) =>
        offsets.map((offset, index) => ({ string: 4 - index, fret: lowest + offset }));
      for (const fingers of fingeringsOf(neck, at(4))) {
        expect(holdingEffort(neck, at(place), fingers, COSTS.hand)).toBe(
          holdingEffort(neck, at(4), fingers, COSTS.hand),
        );
      }
    }),
  );
});

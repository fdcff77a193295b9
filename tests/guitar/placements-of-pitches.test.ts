import fc from "fast-check";
import { expect, test } from "vitest";
import { isHoldable } from "../../src/guitar/fingering.js";
import { midiAt } from "../../src/guitar/instrument.js";
import { fingeringWith, heldPitches, placementsOfPitches } from "../../src/guitar/placements-of-pitches.js";
import { GUITAR } from "../support/guitar.js";

const placesOf = (...pitches: number[]) =>
  [...placementsOfPitches(GUITAR, pitches)].map((strings) =>
    strings.map(({ string, fret }) => `${string}/${fret}`).join(" "),
  );

test("E4 alone stands open, and on three stopped strings up to the fifteenth fret", () => {
  // Radicioni 2005: string 1 fret 0, 2/5, 3/9, 4/14.
  expect(placesOf(64)).toEqual(["1/0", "2/5", "3/9", "4/14"]);
});

test("a chord keeps to the places that one hand spans", () => {
  const places = placesOf(60, 64);
  expect(places).toContain("2/1 1/0");
  expect(places).toContain("3/5 2/5");
  expect(places).not.toContain("2/1 3/9");
});

test("two pitches that only the lowest string has cannot stand together", () => {
  expect(placesOf(40, 42)).toEqual([]);
  expect(heldPitches(GUITAR, [40, 42])).toBeUndefined();
});

test("seven pitches are more than six strings", () => {
  expect(placesOf(40, 45, 50, 55, 59, 64, 67)).toEqual([]);
});

test("fingers that are given already are kept", () => {
  const strings = [
    { string: 2, fret: 1 },
    { string: 1, fret: 3 },
  ];
  expect(fingeringWith(GUITAR, strings, [2, undefined])).toEqual([2, 3]);
  expect(fingeringWith(GUITAR, strings, [4, undefined])).toBeUndefined();
});

test("every placement sounds its pitches, each on a string of its own; what is held can be held", () => {
  fc.assert(
    fc.property(
      fc.uniqueArray(fc.integer({ min: 40, max: 79 }), { minLength: 1, maxLength: 4 }),
      (pitches) => {
        for (const strings of placementsOfPitches(GUITAR, pitches)) {
          expect(strings.map(({ string, fret }) => midiAt(GUITAR, string, fret))).toEqual(pitches);
          expect(new Set(strings.map(({ string }) => string)).size).toBe(pitches.length);
        }
        const held = heldPitches(GUITAR, pitches);
        if (held !== undefined) expect(isHoldable(GUITAR, held.strings, held.fingers)).toBe(true);
      },
    ),
  );
});

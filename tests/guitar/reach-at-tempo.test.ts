import { expect, test } from "vitest";
import { beyondTempoReachMm } from "../../src/guitar/reach-at-tempo.js";
import { GUITAR, gripFrom } from "../support/guitar.js";

const beyondMm = (diagram: string, instrument = GUITAR): number => {
  const { strings, fingers } = gripFrom(diagram);
  return beyondTempoReachMm(instrument, strings, fingers);
};

test("a finger a fret goes at tempo everywhere on the neck", () => {
  for (let fret = 1; fret <= 12; fret += 1)
    expect(beyondMm(`x x ${fret}:1 ${fret + 1}:2 ${fret + 2}:3 ${fret + 3}:4`)).toBe(0);
});

test("a fifth fret is a stretch up to the seventh, the wider the lower, and goes at tempo from the eighth on", () => {
  const beyond = [4, 5, 6, 7].map((fret) => beyondMm(`x ${fret + 2}:2 x ${fret}:1 ${fret + 4}:4 x`));
  expect(beyond).toEqual(beyond.toSorted((one, other) => other - one));
  expect(Math.min(...beyond)).toBeGreaterThan(0);
  expect(beyondMm("x 10:2 x 8:1 12:4 x")).toBe(0);
});

test("a larger hand takes five frets lower down, a smaller one no more than it has", () => {
  const diagram = "x x 6:1 x 10:4 x";
  expect(beyondMm(diagram, { ...GUITAR, handSize: 1.15 })).toBe(0);
  expect(beyondMm(diagram, { ...GUITAR, handSize: 0.9 })).toBeGreaterThan(beyondMm(diagram));
});

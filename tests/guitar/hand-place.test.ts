import { expect, test } from "vitest";
import { handPlaceMm } from "../../src/guitar/hand-place.js";
import { fretPositionMm } from "../../src/guitar/instrument.js";
import { GUITAR, gripFrom } from "../support/guitar.js";

const placeOf = (diagram: string): number | undefined => {
  const { strings, fingers } = gripFrom(diagram);
  return handPlaceMm(GUITAR, strings, fingers);
};
const fret = (number: number): number => fretPositionMm(GUITAR, number);

test("a hand with one finger a fret is where its index finger lies or would lie", () => {
  expect(placeOf("x x 7:3 6:2 5:1 x")).toBe(fret(5));
  expect(placeOf("x x 7:3 6:2 x x")).toBe(fret(5));
  expect(placeOf("x x x x 8:4 x")).toBe(fret(5));
});

test("a finger stretched out draws the hand after it", () => {
  expect(placeOf("x x 5:1 x x 9:4")).toBe((fret(5) + fret(6)) / 2);
  expect(placeOf("x x 3:1 7:3 8:4 x")).toBe((fret(3) + 2 * fret(5)) / 3);
});

test("fingers side by side at one fret draw nothing", () => {
  expect(placeOf("x x 5:1 5:2 5:3 x")).toBe(fret(5));
});

test("the hand is never behind the first fret, and nowhere over open strings alone", () => {
  expect(placeOf("x x 2:3 x x x")).toBe(fret(1));
  expect(placeOf("x x 0 0 x x")).toBeUndefined();
});

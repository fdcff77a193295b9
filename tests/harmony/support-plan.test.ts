import { describe, expect, test } from "vitest";
import { supportPlan } from "../../src/harmony/support-plan.js";
import { chordNamed } from "../support/chord-named.js";

/** What stands under a melody note, given as semitones over C. */
const planUnder = (symbol: string, melody: number) => supportPlan(chordNamed(symbol), melody, "auto");

const E = 4;
const F = 5;
const C = 0;
const B = 11;

// Common practice: a line in the bass under one chord, C, C/B, C/Bb, goes on under a melody on the root.
test("a bass that the symbol names is there a minor ninth under a tone of its chord", () => {
  const { bass, askedClash, wanted } = planUnder("C/B", C);
  expect([bass?.pitchClass, askedClash]).toEqual([B, B]);
  expect(wanted.map(({ label }) => label)).toEqual(["3", "5"]);
});

test("a melody note foreign to the chord does not stand a minor ninth over its bass", () => {
  const { bass, askedClash } = planUnder("C/E", F);
  expect([bass, askedClash]).toEqual([undefined, undefined]);
});

test("a bass at any other distance from the melody is asked for as ever", () => {
  expect(planUnder("C/E", C)).toMatchObject({ bass: { pitchClass: E }, askedClash: undefined });
});

// The eleventh over a half-diminished chord leaves its diminished fifth, which says what it is; over a diminished triad it
// leaves all of it. Common practice.
describe.each([
  ["Cm7b5", ["1", "b5", "b7"]],
  ["Cdim", ["1", "b3", "b5"]],
  ["Cm7", ["1", "b3", "b7"]],
  ["C7", ["1", "5", "b7"]],
])("under the eleventh of %s", (symbol, labels) => {
  test(`stand ${labels.join(", ")}`, () => {
    expect(planUnder(symbol, F).wanted.map(({ label }) => label)).toEqual(labels);
  });
});

// A fourth that comes to rest on the third is its suspension. Common practice.
test("an eleventh that goes down to a minor third stands for it, and lets it stay", () => {
  const { wanted, mayStay } = supportPlan(chordNamed("Cm"), F, "auto", true);
  expect(wanted.map(({ label }) => label)).toEqual(["1", "5"]);
  expect(mayStay?.label).toBe("b3");
});

// Under its sixth a diminished triad without its fifth is a minor sixth chord. Common practice.
test("a diminished fifth stays under a sixth, where a perfect one gives way", () => {
  const A = 9;
  expect(planUnder("Cdim", A).wanted.map(({ label }) => label)).toEqual(["1", "b3", "b5"]);
  expect(planUnder("Cm", A).wanted.map(({ label }) => label)).toEqual(["1", "b3"]);
});

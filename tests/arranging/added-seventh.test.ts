import { describe, expect, test } from "vitest";
import { struckGrips } from "../../src/arranging/candidates/struck-grips.js";
import { COSTS } from "../../src/arranging/costs/cost-table.js";
import { addedSeventh } from "../../src/harmony/added-seventh.js";
import { shapeOf, shapesUnder } from "../../src/harmony/shapes/shape-table.js";
import { supportPlan } from "../../src/harmony/support-plan.js";
import { chordNamed } from "../support/chord-named.js";
import { GUITAR } from "../support/guitar.js";

const gripsUnder = (symbol: string, melodyMidi: number) =>
  struckGrips(
    { instrument: GUITAR, melodyStrings: [1, 2] },
    melodyMidi,
    supportPlan(chordNamed(symbol), melodyMidi % 12, "auto"),
    COSTS,
  );

const E4 = 64;
const G4 = 67;
const Bb4 = 70;

// The shape that a first book of chords has for a diminished chord. Common practice.
test("a diminished triad may have its seventh, as x 4 5 3 5 x has it, and that is a shape with a name", () => {
  const whole = gripsUnder("C#dim", E4).find(
    ({ strings }) => strings.map(({ string, fret }) => `${string}:${fret}`).join(" ") === "5:4 4:5 3:3 2:5",
  );
  expect(whole?.degrees).toEqual(["1", "b5", "bb7"]);
  const { strings = [], midis = [] } = whole ?? {};
  expect(shapeOf(shapesUnder(chordNamed("C#dim"), E4 % 12), strings, midis)?.family).toBe("drop-2");
});

test("beside it stands all of the triad", () => {
  for (const melodyMidi of [E4, G4]) {
    const withSeventh = gripsUnder("C#dim", melodyMidi).filter(({ degrees }) => degrees.includes("bb7"));
    expect(withSeventh.length).toBeGreaterThan(0);
    for (const { midis } of withSeventh)
      expect(new Set(midis.map((midi) => midi % 12))).toEqual(new Set([1, 4, 7, 10]));
  }
});

test("under itself on top it is not there once more", () => {
  for (const { degrees } of gripsUnder("C#dim", Bb4)) expect(degrees).not.toContain("bb7");
});

describe.each(["C#m", "C#m7b5", "C#dim7", "C#", "C#+"])("%s", (symbol) => {
  test("has what its symbol names", () => {
    expect(addedSeventh(chordNamed(symbol))).toBeUndefined();
  });
});

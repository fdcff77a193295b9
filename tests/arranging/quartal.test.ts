import { expect, test } from "vitest";
import { struckGrips } from "../../src/arranging/candidates/struck-grips.js";
import { COSTS } from "../../src/arranging/costs/cost-table.js";
import { chordOf } from "../../src/harmony/chord-tones.js";
import { supportPlan } from "../../src/harmony/support-plan.js";
import { GUITAR } from "../support/guitar.js";

const gripsUnder = (kind: string, melodyMidi: number, string: number) =>
  struckGrips(
    { instrument: GUITAR, melodyStrings: [string] },
    melodyMidi,
    supportPlan(
      chordOf({ root: { letter: "D", alter: 0 }, kind, degrees: [], bass: undefined }),
      melodyMidi % 12,
      "auto",
    ),
    COSTS,
  );

test("F on top of D minor seven can stand on nothing but fourths, as x 5 5 5 6 x", () => {
  const quartal = gripsUnder("minor-seventh", 65, 2).find(
    (grip) => grip.strings.map((note) => `${note.string}:${note.fret}`).join(" ") === "5:5 4:5 3:5 2:6",
  );
  // D G C F: three fourths. Computed from the open strings.
  expect(quartal?.degrees).toEqual(["1", "11", "b7"]);
});

test("the eleventh never stands beside the fifth that it replaces", () => {
  for (const grip of gripsUnder("minor-seventh", 65, 2)) {
    expect(grip.degrees.includes("11") && grip.degrees.includes("5")).toBe(false);
  }
});

test("D seven with its third on top takes no eleventh", () => {
  for (const grip of gripsUnder("dominant", 66, 2)) expect(grip.degrees).not.toContain("11");
});

test("the eleventh stands for the fifth in a stack of fourths alone, on strings side by side", () => {
  const withEleventh = [1, 2].flatMap((string) =>
    gripsUnder("minor-seventh", 65, string).filter((grip) => grip.degrees.includes("11")),
  );
  expect(withEleventh.length).toBeGreaterThan(0);
  for (const { strings } of withEleventh) {
    expect(strings.map((note) => note.string)).toEqual(
      strings.map((_, index) => strings.length - 1 - index + (strings.at(-1)?.string ?? 0)),
    );
  }
});

import { describe, expect, test } from "vitest";
import { type StruckGrip, struckGrips } from "../../src/arranging/candidates/struck-grips.js";
import { struckKept, struckRows } from "../../src/arranging/candidates/struck-rows.js";
import { COSTS } from "../../src/arranging/costs/cost-table.js";
import { GripRows } from "../../src/arranging/grips/grip-rows.js";
import { midiAt } from "../../src/guitar/instrument.js";
import { supportPlan } from "../../src/harmony/support-plan.js";
import { chordNamed } from "../support/chord-named.js";
import { GUITAR, gripFrom } from "../support/guitar.js";

const BOARD = { instrument: GUITAR, melodyStrings: [1, 2, 3] };

/** The grips that a moment keeps, with what they cost. */
function kept(grips: readonly StruckGrip[], isFingerDecided: boolean) {
  const into = new GripRows();
  const { rows, costs } = struckRows(BOARD, grips, struckKept(isFingerDecided), {
    grips: into,
    shared: (one) => one,
  });
  return rows.map((row, index) => `${into.supportsAt(row).name} ${costs[index]}`);
}

describe("where looking for more grips is given up early", () => {
  const anyFinger = { looked: 0, all: 0 };
  const fingerDecided = { looked: 0, all: 0 };

  test.each(["C", "Am7", "G7", "Bm7b5", "Fmaj7", "D7b9", "Eb6"])(
    "the grips kept of %s are the same",
    (symbol) => {
      const chord = chordNamed(symbol);
      const root = chord.tones[0]?.pitchClass;
      for (const midi of [60, 64, 67, 71, 76])
        for (const isFingerDecided of [false, true])
          for (const otherLowest of [0, 60, 260]) {
            const lowestCost = (lowest: number) => (lowest % 12 === root ? 0 : otherLowest);
            const plan = supportPlan(chord, midi % 12, "auto");
            const whole = struckGrips(BOARD, midi, plan, COSTS, { lowestCost });
            const part = struckGrips(BOARD, midi, plan, COSTS, {
              lowestCost,
              kept: struckKept(isFingerDecided),
            });
            expect(kept(part, isFingerDecided)).toEqual(kept(whole, isFingerDecided));
            const counts = isFingerDecided ? fingerDecided : anyFinger;
            counts.looked += part.length;
            counts.all += whole.length;
          }
    },
  );

  test.each([
    ["wherever any finger does", anyFinger],
    ["where the finger on the note decides", fingerDecided],
  ])("fewer are looked at %s", (_, { looked, all }) => {
    expect(all).toBeGreaterThan(0);
    expect(looked).toBeLessThan(all);
  });
});

describe("a grip to which one more note can be added", () => {
  /** Whether a moment at which the root is to be lowest, or need not be, keeps a grip. */
  const isKept = (symbol: string, diagram: string, notOnRoot: number): boolean => {
    const { strings } = gripFrom(diagram);
    const melody = strings.at(-1) ?? { string: 1, fret: 0 };
    const midi = midiAt(GUITAR, melody.string, melody.fret);
    const chord = chordNamed(symbol);
    const root = chord.tones[0]?.pitchClass;
    const grips = struckGrips(BOARD, midi, supportPlan(chord, midi % 12, "auto"), COSTS, {
      lowestCost: (lowest) => (lowest % 12 === root ? 0 : notOnRoot),
    });
    const under = strings.slice(0, -1).map(({ string, fret }) => `${string}:${fret}:`);
    const names = kept(
      grips.filter((grip) => grip.strings.at(-1)?.string === melody.string),
      false,
    ).map((text) => text.replace(/:\d(?= )/g, ":"));
    return names.some((name) => name.split(" ").slice(0, -1).join(" ").trim() === under.join(" "));
  };

  test.each([
    ["A", "x x 2 2 2 x", "x 0 2 2 2 x"],
    ["F", "x x 10 10 10 x", "x 8 10 10 10 x"],
    ["Eb", "x x 5 3 4 3", "x 6 5 3 4 3"],
    ["C", "x 10 10 9 8 x", "8 10 10 9 8 x"],
  ])("%s at %s has its root below where the chord is to rest on it", (symbol, without, withRoot) => {
    expect(isKept(symbol, without, 0)).toBe(true);
    expect(isKept(symbol, without, 200)).toBe(false);
    expect(isKept(symbol, withRoot, 200)).toBe(true);
  });

  test("has the string inside that would be silent else", () => {
    expect(isKept("F", "x 8 10 x 10 8", 0)).toBe(false);
    expect(isKept("F", "x 8 10 10 10 8", 0)).toBe(true);
  });

  test("stays as it is where that makes it dearer", () => {
    expect(isKept("F", "x x 3 2 1 1", 200)).toBe(true);
  });
});

import { describe, expect, test } from "vitest";
import { type StruckGrip, struckGrips } from "../../src/arranging/candidates/struck-grips.js";
import { isStruckEnough, struckRows } from "../../src/arranging/candidates/struck-rows.js";
import { COSTS } from "../../src/arranging/costs/cost-table.js";
import { GripRows } from "../../src/arranging/grips/grip-rows.js";
import { supportPlan } from "../../src/harmony/support-plan.js";
import { chordNamed } from "../support/chord-named.js";
import { GUITAR } from "../support/guitar.js";

const BOARD = { instrument: GUITAR, melodyStrings: [1, 2, 3] };

/** The grips that a moment keeps, with what they cost. */
function kept(grips: readonly StruckGrip[], isFingerDecided: boolean) {
  const into = new GripRows();
  const { rows, costs } = struckRows(BOARD, grips, isFingerDecided, { grips: into, shared: (one) => one });
  return rows.map((row, index) => `${into.supportsAt(row).name} ${costs[index]}`);
}

describe("where looking for more grips is given up early", () => {
  let looked = 0;
  let all = 0;

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
            const isEnough = isStruckEnough(isFingerDecided);
            const part = struckGrips(BOARD, midi, plan, COSTS, { lowestCost, isEnough });
            expect(kept(part, isFingerDecided)).toEqual(kept(whole, isFingerDecided));
            looked += part.length;
            all += whole.length;
          }
    },
  );

  test("fewer are looked at", () => {
    expect(all).toBeGreaterThan(0);
    expect(looked).toBeLessThan(all);
  });
});

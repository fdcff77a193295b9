import fc from "fast-check";
import { expect, test } from "vitest";
import { COSTS } from "../../src/arranging/costs/cost-table.js";
import { moveCost } from "../../src/arranging/costs/move-cost.js";
import { packedColumn } from "../../src/arranging/grips/packed-column.js";
import { arrangingProblem } from "../../src/arranging/tune-problem.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { tuneOf, tuneSketches } from "../support/random-tune.js";

test("every supporting note let go under a moving melody is paid for, whatever other grips there are", () => {
  const letGoSeen = { held: 0, single: 0 };
  fc.assert(
    fc.property(tuneSketches({ lowest: 57, highest: 79, mostNotes: 5 }), (sketch) => {
      const wishes = { ...PLAIN_WISHES, texture: "fluent" as const, instrument: GUITAR };
      const problem = arrangingProblem(tuneOf(sketch), wishes);
      for (const link of problem.links) {
        const stepCost = problem.stepCost(link);
        const seconds = "seconds" in link ? Number(link.seconds) : Number.NaN;
        for (const [toChoice, to] of (problem.columns[link.to]?.candidates ?? []).entries()) {
          const event = problem.events[link.to];
          const mayRingOn =
            event?.mayBeHeldInto === true && !event.isChordChange && link.to === link.from + 1;
          if (to.attack !== "held" && !(to.attack === "single" && mayRingOn)) continue;
          for (const [fromChoice, from] of (problem.columns[link.from]?.candidates ?? []).entries()) {
            const cost = stepCost(fromChoice, toChoice);
            const letGo = from.degrees.length - to.degrees.length;
            if (!Number.isFinite(cost) || letGo <= 0) continue;
            letGoSeen[to.attack] += 1;
            const bare = moveCost(
              packedColumn(problem.columns[link.from]?.candidates ?? []),
              fromChoice,
              packedColumn(problem.columns[link.to]?.candidates ?? []),
              toChoice,
              { seconds, texture: "fluent", mmPerSecond: wishes.shift, isRepeated: false },
              COSTS.move,
            );
            expect(cost).toBeGreaterThanOrEqual(bare + letGo * COSTS.voicing.droppedWhileHeld.other);
          }
        }
      }
    }),
    { numRuns: 20 },
  );
  expect(letGoSeen.held).toBeGreaterThan(0);
  expect(letGoSeen.single).toBeGreaterThan(0);
});

import fc from "fast-check";
import { expect, test } from "vitest";
import { COSTS } from "../../src/arranging/costs/cost-table.js";
import { moveCosts } from "../../src/arranging/costs/move-cost.js";
import { type Candidate, melodyString } from "../../src/arranging/grips/candidate.js";
import { packedColumn } from "../../src/arranging/grips/packed-column.js";
import { arrangingProblem } from "../../src/arranging/tune-problem.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { tuneOf, tuneSketches } from "../support/random-tune.js";

/** The supporting notes of a grip that lie below the string on which another has the melody. */
const under = (from: Candidate, to: Candidate) =>
  from.supports.strings.filter(({ string }) => string > (melodyString(to)?.string ?? 0));

/** The melody goes to a higher string: lifting the finger from its note may have its price. */
const mayLeaveMelody = (from: Candidate, to: Candidate) =>
  (melodyString(from)?.string ?? 0) > (melodyString(to)?.string ?? 0);

test("every supporting note let go under a moving melody is paid for, by a share where the melody takes its string", () => {
  const letGoSeen = { held: 0, single: 0, taken: 0 };
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
            // What the melody left is none of the supporting notes of before.
            const kept = to.degrees.length - (to.keepsMelody ? 1 : 0);
            const letGo = under(from, to).length - kept;
            if (!Number.isFinite(cost) || from.degrees.length === kept) continue;
            const { other } = COSTS.voicing.droppedWhileHeld;
            const isSameChord = event?.isChordChange === false;
            const bare = moveCosts(
              packedColumn(problem.columns[link.from]?.candidates ?? []),
              packedColumn(problem.columns[link.to]?.candidates ?? []),
              { seconds, texture: "fluent", mmPerSecond: wishes.shift, isRepeated: false, isSameChord },
              COSTS.move,
            )(fromChoice, toChoice);
            if (letGo > 0) {
              letGoSeen[to.attack] += 1;
              expect(cost).toBeGreaterThanOrEqual(bare + letGo * other);
            } else if (from.midis.at(-1) !== to.midis.at(-1) && !mayLeaveMelody(from, to)) {
              letGoSeen.taken += 1;
              const taken = from.degrees.length - under(from, to).length;
              const each = COSTS.voicing.droppedWhileHeld.guideOrRoot * COSTS.voicing.shareWhereMelodyTakes;
              expect(cost).toBeLessThan(bare + other + taken * each);
            }
          }
        }
      }
    }),
    { numRuns: 60 },
  );
  expect(letGoSeen.held).toBeGreaterThan(0);
  expect(letGoSeen.single).toBeGreaterThan(0);
  expect(letGoSeen.taken).toBeGreaterThan(0);
});

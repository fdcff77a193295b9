import fc from "fast-check";
import { expect, test } from "vitest";
import { COSTS, type CostTable } from "../../src/arranging/costs/cost-table.js";
import type { Candidate } from "../../src/arranging/grips/candidate.js";
import { arrangingProblem } from "../../src/arranging/tune-problem.js";
import { barresOf } from "../../src/guitar/fingering.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { tuneOf, tuneSketches } from "../support/random-tune.js";

const WITHOUT: CostTable = { ...COSTS, move: { ...COSTS.move, barreUnrestedEachSecond: 0 } };

const isBarred = ({ strings, fingers }: Candidate): boolean =>
  barresOf(strings, fingers).some(({ from, to }) => from - to >= 2);

test("a barre that goes straight on into another costs by how long it was held, and nothing else does", () => {
  const seen = { straightOn: 0, afterRest: 0, unbarred: 0 };
  fc.assert(
    fc.property(tuneSketches({ lowest: 60, highest: 79, mostNotes: 4 }), (sketch) => {
      const wishes = { ...PLAIN_WISHES, texture: "fluent" as const, instrument: GUITAR };
      const tune = tuneOf(sketch);
      const problem = arrangingProblem(tune, wishes);
      const without = arrangingProblem(tune, wishes, WITHOUT);
      const wrong: object[] = [];
      for (const [index, link] of problem.links.entries()) {
        const stepCost = problem.stepCost(link);
        const bareCost = without.stepCost(without.links[index] ?? link);
        const { note } = problem.events[link.from] ?? {};
        const next = problem.events[link.to]?.onset ?? 0;
        // Over a repeat the note's end says nothing of the start it goes back to.
        const isStraightOn =
          note !== undefined && (link.to > link.from ? note.onset + note.length >= next : undefined);
        for (const [fromChoice, from] of (problem.columns[link.from]?.candidates ?? []).entries()) {
          for (const [toChoice, to] of (problem.columns[link.to]?.candidates ?? []).entries()) {
            const cost = stepCost(fromChoice, toChoice);
            if (!Number.isFinite(cost)) continue;
            const more = cost - bareCost(fromChoice, toChoice);
            const areBarred = isBarred(from) && isBarred(to);
            if (!areBarred) seen.unbarred += 1;
            else if (isStraightOn === true) seen.straightOn += 1;
            else if (isStraightOn === false) seen.afterRest += 1;
            else continue;
            const due =
              areBarred && isStraightOn ? Math.round(link.seconds * COSTS.move.barreUnrestedEachSecond) : 0;
            if (more !== due) wrong.push({ more, due, from, to });
          }
        }
      }
      expect(wrong).toEqual([]);
    }),
    // The same tunes each time: not every five and twenty have a barre that rests.
    { numRuns: 25, seed: 5 },
  );
  for (const times of Object.values(seen)) expect(times).toBeGreaterThan(0);
});

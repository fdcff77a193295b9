import fc from "fast-check";
import { expect, test } from "vitest";
import { problemInMaking } from "../../src/arranging/tune-problem.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { tuneOf, tuneSketches } from "../support/random-tune.js";

test("no event costs less than what is known of it before its grips are, wherever on the neck the tune lies", () => {
  let known = 0;
  fc.assert(
    fc.property(
      tuneSketches({ lowest: 43, highest: 84, mostNotes: 8 }),
      fc.record({
        texture: fc.constantFrom("fluent", "full", "lean"),
        bass: fc.constantFrom("none", "none", "roots", "walking"),
        rests: fc.constantFrom("silent", "struck"),
        rightHand: fc.constantFrom("either", "fingers", "pick"),
      }),
      (sketch, asked) => {
        const { problem, addColumns, leastOfRest } = problemInMaking(tuneOf(sketch), {
          ...PLAIN_WISHES,
          ...asked,
          melodyStrings: [1, 2, 3, 4, 5, 6],
          instrument: { ...GUITAR, frets: 24 },
        });
        for (let isWhole = false; !isWhole; ) {
          const before = leastOfRest();
          isWhole = addColumns(1);
          const column = problem.columns.at(-1);
          const least = Math.min(...(column?.cost ?? []));
          const promised = before - leastOfRest();
          if (promised > 0) known += 1;
          if (least < promised) expect.fail(`${least} where ${promised} were promised`);
        }
        expect(leastOfRest()).toBe(0);
      },
    ),
    { numRuns: 150 },
  );
  expect(known).toBeGreaterThan(200);
}, 120_000);

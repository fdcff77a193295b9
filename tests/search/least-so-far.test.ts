import fc from "fast-check";
import { expect, test } from "vitest";
import { cheapestWay } from "../../src/search/cheapest-path.js";
import { leastSoFar } from "../../src/search/least-so-far.js";
import { randomProblems } from "../support/random-problem.js";

test("what a way costs at least by its first columns never falls as columns are added, and is never more than the cheapest way", () => {
  const seen = { alone: 0, jumping: 0 };
  fc.assert(
    fc.property(
      randomProblems,
      fc.array(fc.integer({ min: 1, max: 3 }), { maxLength: 6 }),
      (whole, added) => {
        const sizes: number[] = [];
        const least = leastSoFar({ ...whole, sizes });
        let before = least();
        expect(before).toBe(0);
        for (const count of [...added, whole.sizes.length]) {
          sizes.push(...whole.sizes.slice(sizes.length, sizes.length + count));
          const now = least();
          if (now < before) expect.fail(`${now} after ${before}`);
          expect(least()).toBe(now);
          before = now;
        }
        const cheapest = cheapestWay(whole)?.cost ?? Number.POSITIVE_INFINITY;
        expect(before).toBeLessThanOrEqual(cheapest);
        const isJumping = whole.links.some(({ from, to }) => to !== from + 1);
        if (!isJumping) expect(before).toBe(cheapest);
        seen[isJumping ? "jumping" : "alone"] += 1;
      },
    ),
    { numRuns: 1000 },
  );
  expect(Math.min(seen.alone, seen.jumping)).toBeGreaterThan(100);
});

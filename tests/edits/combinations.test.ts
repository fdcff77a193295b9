import { expect, test } from "vitest";
import { combinations } from "../../src/edits/combinations.js";

test("one of each, the last changing first", () => {
  expect([...combinations([["a", "b"], ["c"], ["d", "e"]])].map((chosen) => chosen.join(""))).toEqual([
    "acd",
    "ace",
    "bcd",
    "bce",
  ]);
});

test("of nothing there is one, which is nothing", () => {
  expect([...combinations([])]).toEqual([[]]);
});

// A note that no string has, beside some that may have been anywhere, is looked for in vain a million times.
test("where one has no way, none of the others is gone through", () => {
  let looked = 0;
  const counted = Object.assign(["a", "b"], {
    [Symbol.iterator]: function* () {
      looked += 1;
      yield* ["a", "b"];
    },
  });
  expect([...combinations([counted, counted, []])]).toEqual([]);
  expect(looked).toBe(0);
});

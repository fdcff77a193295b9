import { describe, expect, test } from "vitest";
import { COSTS, type CostTable } from "../../src/arranging/costs/cost-table.js";
import { NOT_SHOWN, SITUATIONS } from "../support/weight-situations.js";

/** Every number of a table with its path; those that are nothing already weigh nothing. */
function weightsIn(table: object, path: readonly string[] = []): readonly string[] {
  return Object.entries(table).flatMap(([name, value]) =>
    typeof value === "object"
      ? weightsIn(value, [...path, name])
      : value === 0
        ? []
        : [[...path, name].join(".")],
  );
}

/** The table with one weight set to nothing. */
function without(weight: string): CostTable {
  const costs = structuredClone(COSTS);
  const path = weight.split(".");
  let place = costs as unknown as Record<string, unknown>;
  for (const name of path.slice(0, -1)) place = place[name] as Record<string, unknown>;
  const last = path.at(-1) ?? "";
  expect(place[last], `there is no weight ${weight}`).toBeTypeOf("number");
  place[last] = 0;
  return costs;
}

describe("each weight decides something, and no longer when it is set to nothing:", () => {
  test.each(SITUATIONS)("$weight: $because", ({ weight, better, worse }) => {
    expect(better(COSTS)).toBeLessThan(worse(COSTS));
    const nothing = without(weight);
    expect(better(nothing) < worse(nothing)).toBe(false);
  });

  test("none is forgotten", () => {
    const shown = new Set(SITUATIONS.map(({ weight }) => weight));
    expect(weightsIn(COSTS).filter((weight) => !shown.has(weight) && !NOT_SHOWN.has(weight))).toEqual([]);
    expect([...NOT_SHOWN.keys()].filter((weight) => shown.has(weight))).toEqual([]);
  });
});

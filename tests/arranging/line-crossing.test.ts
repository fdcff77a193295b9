import { expect, test } from "vitest";
import type { Attack } from "../../src/arrangement/arrangement.js";
import { crossesStrings } from "../../src/arranging/costs/line-crossing.js";
import { packedColumn } from "../../src/arranging/grips/packed-column.js";
import { candidateFrom } from "../support/candidate-from.js";

const column = (diagram: string, attack: Attack) => packedColumn([candidateFrom(diagram, attack)]);

// The melody over the G on string 6.
const C_ON_THIRD = "3:1 x x 5:4 x x";
const B_ON_THIRD = "3:1 x x 4:2 x x";
const B_OPEN = "3:1 x x x 0 x";
const D_ON_SECOND = "3:1 x x x 3:1 x";

test.each([
  ["down on its string", C_ON_THIRD, B_ON_THIRD, false],
  ["down to the open string above", C_ON_THIRD, B_OPEN, true],
  ["up from the open string to the one below", B_OPEN, C_ON_THIRD, true],
  ["up to the string above", C_ON_THIRD, D_ON_SECOND, false],
  ["down to the string below", D_ON_SECOND, C_ON_THIRD, false],
  ["the same pitch on another string", B_ON_THIRD, B_OPEN, false],
])("a line goes %s", (_, from, to, crosses) => {
  expect(crossesStrings(column(from, "struck"), 0, column(to, "held"), 0)).toBe(crosses);
});

test("where a chord is struck, or nothing rings, the line goes with the hand", () => {
  for (const attack of ["struck", "single"] as const)
    expect(crossesStrings(column(C_ON_THIRD, "struck"), 0, column(B_OPEN, attack), 0)).toBe(false);
});

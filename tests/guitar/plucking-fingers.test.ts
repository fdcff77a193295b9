import { describe, expect, test } from "vitest";
import { isAtHome, pluckingFingers } from "../../src/guitar/plucking-fingers.js";

/** "5 3 2" to "p i m": the strings struck together, the lowest-pitched first. */
const plucked = (strings: string): string => pluckingFingers(strings.split(" ").map(Number)).join(" ");
const isObvious = (strings: string): boolean => {
  const struck = strings.split(" ").map(Number);
  return isAtHome(struck, pluckingFingers(struck));
};

describe("the fingers of the right hand on strings struck together", () => {
  test.each([
    ["4 3 2 1", "p i m a"],
    ["6 3 2 1", "p i m a"],
    ["5 3 2", "p i m"],
    ["3 2 1", "i m a"],
    ["6 1", "p a"],
    ["3 1", "i a"],
    ["4 2", "p m"],
  ])("%s have the fingers that are at home there: %s", (strings, fingers) => {
    expect(plucked(strings)).toBe(fingers);
    expect(isObvious(strings)).toBe(true);
  });

  test.each([
    ["5 4 3 2", "p i m a", "the fingers move a string down"],
    ["5 4 2 1", "p i m a", "the index finger comes down alone"],
    ["5 4 3", "p i m", "two strings of the thumb"],
    ["6 5", "p i", "two strings of the thumb"],
  ])("%s have %s, which is said: %s", (strings, fingers) => {
    expect(plucked(strings)).toBe(fingers);
    expect(isObvious(strings)).toBe(false);
  });

  test("the thumb brushes what four fingers cannot take", () => {
    expect(plucked("5 4 3 2 1")).toBe("p p i m a");
    expect(plucked("6 5 4 3 2 1")).toBe("p p p i m a");
  });
});

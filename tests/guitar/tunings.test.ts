import { describe, expect, test } from "vitest";
import { NAMED_TUNINGS } from "../../src/guitar/tunings.js";
import { instrumentFrom } from "../../src/options/instrument-from-options.js";
import { completeOptions, OptionsError } from "../../src/options/option-checking.js";

const strings = (tuning: string) => instrumentFrom(completeOptions({ tuning })).openStrings;

describe("A tuning by its name", () => {
  test.each([
    ["DADGAD", [62, 57, 55, 50, 45, 38]],
    ["Drop-D", [64, 59, 55, 50, 45, 38]],
    ["open-g", [62, 59, 55, 50, 43, 38]],
    ["standard", [64, 59, 55, 50, 45, 40]],
  ])("%s is the strings players tune to", (name, midi) => {
    expect(strings(name)).toEqual(midi);
  });

  test.each(Object.keys(NAMED_TUNINGS))("%s is taken by the option, as the strings it stands for", (name) => {
    expect(strings(name)).toEqual(strings(NAMED_TUNINGS[name] ?? ""));
  });

  test("that nobody knows is refused with what would work", () => {
    expect(() => strings("open-x")).toThrow(OptionsError);
    expect(() => strings("open-x")).toThrow(/or a name such as DADGAD/);
  });
});

import { expect, test } from "vitest";
import { instrumentFrom, melodyStringsFrom } from "../../src/options/instrument-from-options.js";
import { completeOptions, OptionsError } from "../../src/options/option-checking.js";
import { OPTIONS } from "../../src/options/options.js";
import { OPTIONS_SCHEMA } from "../../src/options/options-schema.js";
import { keyWishFrom } from "../../src/wishes/key-wish.js";

const refusal = (given: unknown) => {
  try {
    completeOptions(given);
  } catch (error) {
    if (error instanceof OptionsError) return error.findings;
    throw error;
  }
  throw new Error("the options were taken");
};

test("options that are not given get the default of the table", () => {
  const options = completeOptions({ capo: 2, texture: undefined });
  for (const [name, row] of Object.entries(OPTIONS)) {
    if (name !== "capo") expect(options[name as keyof typeof options], name).toBe(row.default);
  }
  expect(options.capo).toBe(2);
  expect(completeOptions(undefined)).toEqual(completeOptions({}));
});

test("an unknown option is refused by its name, and the known ones are said", () => {
  const [finding] = refusal({ stringz: "1-3" });
  expect(finding?.rule).toBe("option-unknown");
  expect(finding?.message).toContain('"stringz"');
  expect(finding?.message).toContain("scaleLength");
});

test.each([
  [{ frets: 4 }, "frets"],
  [{ frets: 12.5 }, "frets"],
  [{ frets: "12" }, "frets"],
  [{ texture: "lush" }, "texture"],
  [{ tempo: 0 }, "tempo"],
  [{ key: "H" }, "key"],
  [{ tuning: "E2 A2" }, "tuning"],
  [{ tuning: "E9 A9 D9 G9" }, "tuning"],
  [{ strings: "0-3" }, "strings"],
  [{ diagrams: "yes" }, "diagrams"],
  [{ capo: null }, "capo"],
])("%j is refused by the name of the option", (given, name) => {
  const findings = refusal(given);
  expect(findings).toHaveLength(1);
  expect(findings[0]?.rule).toBe("option-out-of-range");
  expect(findings[0]?.message).toContain(`option ${name} `);
});

test("all that is wrong is said at once", () => {
  expect(refusal({ frets: 99, capo: -1, colour: "red" })).toHaveLength(3);
});

test("options that are no object are refused", () => {
  expect(refusal([])[0]?.rule).toBe("options-unreadable");
  expect(refusal("full")[0]?.rule).toBe("options-unreadable");
});

test("a melody string that the tuning lacks is refused by both names", () => {
  const [finding] = refusal({ strings: "1-5", tuning: "G3 C4 E4 A4" });
  expect(finding?.rule).toBe("options-contradict");
  expect(finding?.message).toMatch(/option strings names string 5, and the option tuning has 4/);
});

test("frets past the end of the neck are refused by both names", () => {
  const [finding] = refusal({ frets: 20, capo: 7 });
  expect(finding?.message).toMatch(/option frets .* option capo/);
  expect(completeOptions({ frets: 17, capo: 7 }).frets).toBe(17);
});

test("a high capo alone leaves as many frets as there are", () => {
  expect(completeOptions({ capo: 11 }).frets).toBe(13);
});

test("a tuning is read from the lowest string up and kept from string 1 on", () => {
  const { openStrings } = instrumentFrom(completeOptions({ tuning: "D2 a2, D3 F#3 Bb3 D4" }));
  expect(openStrings).toEqual([62, 58, 54, 50, 45, 38]);
});

test.each([
  ["1-3", [1, 2, 3]],
  ["3-1", [1, 2, 3]],
  ["2,1", [1, 2]],
  ["1,3-4,3", [1, 3, 4]],
  ["2", [2]],
])("the melody strings %s are %j", (strings, expected) => {
  expect(melodyStringsFrom({ strings })).toEqual(expected);
});

test("a key is kept, looked for, or named by its tonic", () => {
  expect(keyWishFrom({ key: "best" })).toEqual({ kind: "best" });
  expect(keyWishFrom({ key: "eb" })).toEqual({
    kind: "tonic",
    tonic: { letter: "E", alter: -1 },
    mode: undefined,
  });
  expect(keyWishFrom({ key: "bm" })).toMatchObject({ tonic: { letter: "B", alter: 0 }, mode: "minor" });
});

test("the schema holds every row of the table and nothing undefined", () => {
  expect(Object.keys(OPTIONS_SCHEMA.properties)).toEqual(Object.keys(OPTIONS));
  expect(JSON.parse(JSON.stringify(OPTIONS_SCHEMA))).toEqual(OPTIONS_SCHEMA);
});

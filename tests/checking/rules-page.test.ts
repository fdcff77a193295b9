import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

const textAt = (path: string) =>
  readFileSync(fileURLToPath(new URL(`../../${path}`, import.meta.url)), "utf8");

/** Every rule named in the sources of the check and of the reading of guitar parts. */
function rulesInSources(): readonly string[] {
  const checking = readdirSync(fileURLToPath(new URL("../../src/checking/", import.meta.url)));
  const files = [
    ...checking.map((name) => `src/checking/${name}`),
    "src/musicxml/guitar-reading/read-guitar-part.ts",
    "src/musicxml/guitar-reading/stated-instrument.ts",
  ];
  const named = files.flatMap((path) => [
    ...textAt(path).matchAll(/rule: "([a-z-]+)"|^ {4,6}"([a-z]+-[a-z-]+)",$/gm),
  ]);
  return [...new Set(named.map(([, one, other]) => one ?? other ?? ""))];
}

test("the page on the check has a row for every rule, and for nothing else", () => {
  // Ends the reading like every other unreadable score.
  const rules = rulesInSources().filter((rule) => rule !== "no-guitar-part");
  const rows = [...textAt("docs/check.md").matchAll(/^\| `([a-z-]+)` \| (?:error|warning|note) \|/gm)];
  expect(rules.length).toBeGreaterThan(20);
  expect(rows.map(([, rule]) => rule).toSorted()).toEqual(rules.toSorted());
});

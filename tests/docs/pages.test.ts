import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { BATCH_SCHEMA } from "../../src/batch/batch-schema.js";
import { KEYS_SCHEMA } from "../../src/reporting/keys-schema.js";
import { LEFT_OUT_TEXTS } from "../../src/reporting/left-out-texts.js";
import { REPORT_SCHEMA } from "../../src/reporting/report-schema.js";
import { WHY_SINGLE_TEXTS } from "../../src/reporting/why-single-texts.js";
import { readWishes } from "../../src/wishes/read-wishes.js";
import { WISHES_SCHEMA } from "../../src/wishes/wishes-schema.js";
import { runInMemory } from "../support/outside-in-memory.js";

const file = (path: string) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const textAt = (path: string) => readFileSync(file(path), "utf8");
const KETTLE = "sample-scores/kettle-on-the-sill.musicxml";

/** A page with the part between two marks made anew. */
function withPart(page: string, name: string, part: string): string {
  const [begin, end] = [`<!-- begin ${name} -->`, `<!-- end ${name} -->`];
  const [before, rest] = page.split(begin);
  const after = rest?.split(end)[1];
  if (after === undefined) throw new Error(`no place for ${name}`);
  return `${before}${begin}\n\n${part}\n\n${end}${after}`;
}

// After a change: npx vitest run tests/docs --update
describe("the schemas in docs/ are those of the program", () => {
  test.each([
    ["report", REPORT_SCHEMA],
    ["keys", KEYS_SCHEMA],
    ["batch", BATCH_SCHEMA],
    ["wishes", WISHES_SCHEMA],
  ])("%s", async (name, schema) => {
    const text = `${JSON.stringify(schema, undefined, 2)}\n`;
    await expect(text).toMatchFileSnapshot(file(`docs/${name}.schema.json`));
  });
});

test("the example of wishes is granted on a sample score", async () => {
  const [, example = ""] = /```json\n([\s\S]*?)```/.exec(textAt("docs/wishes.md")) ?? [];
  const { wishes } = readWishes(example);
  const words = ["arrange", KETTLE, "-o", "a.musicxml", "--json", "--wishes", "wishes.json"];
  const ran = await runInMemory(words, { [KETTLE]: textAt(KETTLE), "wishes.json": example });
  expect(ran.status, ran.errors).toBe(0);
  const { events } = JSON.parse(ran.output);
  for (const wish of wishes) {
    if (!("measure" in wish)) continue;
    const event = events.find(
      (one: { measure: number; beat: number }) => one.measure === wish.measure && one.beat === wish.beat,
    );
    if ("play" in wish) expect(event.attack).toBe(wish.play);
    else expect(event.notes).toMatchObject(wish.grip);
  }
}, 60_000);

test("the page on the keys shows the table as it is now", async () => {
  const { output } = await runInMemory(["keys", KETTLE], { [KETTLE]: textAt(KETTLE) });
  const lines = [`$ npx undervoice keys ${KETTLE}`, ...output.trimEnd().split("\n")];
  const table = lines.map((line) => (line === "" ? "" : `    ${line}`)).join("\n");
  await expect(withPart(textAt("docs/keys.md"), "table", table)).toMatchFileSnapshot(file("docs/keys.md"));
}, 120_000);

test("the page on the report has every reason why a tone is left out and why a note is alone", async () => {
  const tableOf = (texts: Readonly<Record<string, string>>): string =>
    [
      "| Reason | |",
      "| --- | --- |",
      ...Object.entries(texts).map(([reason, text]) => `| \`${reason}\` | ${text} |`),
    ].join("\n");
  const page = withPart(textAt("docs/report.md"), "reasons", tableOf(LEFT_OUT_TEXTS));
  await expect(withPart(page, "alone", tableOf(WHY_SINGLE_TEXTS))).toMatchFileSnapshot(
    file("docs/report.md"),
  );
});

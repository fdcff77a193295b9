import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { leadSheetFromText } from "./support/lead-sheet-from-text.js";
import { isSharedHere, SHARED } from "./support/shared.js";

const SCORES = fileURLToPath(new URL("../sample-scores/", import.meta.url));
const TEXTS = fileURLToPath(new URL("support/sample-tunes/", import.meta.url));

const names = readdirSync(TEXTS).map((name) => name.replace(/\.txt$/, ""));

test("every sample score has its short text", () => {
  expect(readdirSync(SCORES).toSorted()).toEqual(names.map((name) => `${name}.musicxml`).toSorted());
});

describe.each(names)("%s", (name) => {
  // After a change to a short text: npx vitest run tests/sample-scores.test.ts --update
  test("the score says what its short text says", async () => {
    const text = readFileSync(join(TEXTS, `${name}.txt`), "utf8");
    await expect(leadSheetFromText(text)).toMatchFileSnapshot(join(SCORES, `${name}.musicxml`));
  });

  test.skipIf(!isSharedHere)("the score is valid MusicXML 4.0", () => {
    const schema = join(SHARED, "standards/musicxml-4.0");
    execFileSync(
      "xmllint",
      ["--noout", "--nonet", "--schema", join(schema, "musicxml.xsd"), join(SCORES, `${name}.musicxml`)],
      { env: { ...process.env, XML_CATALOG_FILES: join(schema, "catalog.xml") }, stdio: "pipe" },
    );
  });
});

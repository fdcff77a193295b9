import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { arrangeBytes, completeOptions, Findings } from "../src/index.js";
import { ensembleFromText, isEnsembleText } from "./support/ensemble-from-text.js";
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
    const score = isEnsembleText(text) ? ensembleFromText(text) : leadSheetFromText(text);
    await expect(score).toMatchFileSnapshot(scoreFile(name));
  });

  test.skipIf(!isSharedHere)("the score is valid MusicXML 4.0", () => {
    const schema = join(SHARED, "standards/musicxml-4.0");
    execFileSync(
      "xmllint",
      ["--noout", "--nonet", "--schema", join(schema, "musicxml.xsd"), scoreFile(name)],
      { env: { ...process.env, XML_CATALOG_FILES: join(schema, "catalog.xml") }, stdio: "pipe" },
    );
  });

  test("the score is arranged without an error, the same each time", () => {
    expect(arrangedNow(name)).toEqual(arranged(name));
  });

  test.skipIf(!isSharedHere)("the outside judge finds every promise kept", () => {
    const folder = mkdtempSync(join(tmpdir(), "undervoice-"));
    try {
      const output = join(folder, "guitar.musicxml");
      writeFileSync(output, arranged(name));
      const verdict = spawnSync("python3", [join(SHARED, "check/verify.py"), scoreFile(name), output], {
        encoding: "utf8",
      });
      expect(verdict.status, verdict.stdout + verdict.stderr).toBe(0);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});

const scoreFile = (name: string): string => join(SCORES, `${name}.musicxml`);

const arrangedNow = (name: string): Uint8Array =>
  arrangeBytes(readFileSync(scoreFile(name)), completeOptions({}), new Findings(), { isCompressed: false })
    .bytes;

const arrangedBefore = new Map<string, Uint8Array>();

/** The score's arrangement, made once for all tests. */
function arranged(name: string): Uint8Array {
  const bytes = arrangedBefore.get(name) ?? arrangedNow(name);
  arrangedBefore.set(name, bytes);
  return bytes;
}

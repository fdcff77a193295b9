import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { ScoreError, textOfFinding } from "../../src/diagnostics.js";
import { chordTable, melodyTable, readBytes } from "../support/reading.js";

interface ExpectedCase {
  readonly file: string;
  readonly trap: string;
  readonly expect: {
    readonly melody?: readonly (readonly number[])[];
    readonly chordPcs?: readonly (readonly unknown[])[];
    readonly warn?: string;
    readonly error?: string;
  };
}

const folder = new URL("../cases/", import.meta.url);
const cases = JSON.parse(readFileSync(new URL("expected.json", folder), "utf8")) as readonly ExpectedCase[];

/** Patterns are written for another language: a leading (?i) is a flag here. */
const pattern = (source: string) => new RegExp(source.replace("(?i)", ""), "i");

test.each(cases)("$trap", ({ file, expect: expected }) => {
  const bytes = readFileSync(fileURLToPath(new URL(file, folder)));
  if (expected.error !== undefined) {
    let thrown: unknown;
    try {
      readBytes(bytes);
    } catch (error) {
      thrown = error;
    }
    expect(thrown).toBeInstanceOf(ScoreError);
    expect(textOfFinding((thrown as ScoreError).finding)).toMatch(pattern(expected.error));
    return;
  }
  const { tune, findings } = readBytes(bytes);
  expect(melodyTable(tune)).toEqual(expected.melody);
  expect(chordTable(tune)).toEqual(expected.chordPcs);
  const warnings = findings.all.filter(({ severity }) => severity === "warning").map(textOfFinding);
  if (expected.warn === undefined) expect(warnings).toEqual([]);
  else expect(warnings.join("\n")).toMatch(pattern(expected.warn));
});

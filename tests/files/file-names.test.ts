import { expect, test } from "vitest";
import {
  hasGuitarSuffix,
  isScoreName,
  noteNameFor,
  outputNameFor,
  sameFileKey,
} from "../../src/files/file-names.js";

const named = (name: string, wish = {}) =>
  outputNameFor(name, { isCompressed: false, isGuitarScore: false, ...wish });

test.each([
  ["tune.musicxml", "tune-guitar.musicxml"],
  ["A Walk (in May).mxl", "A Walk (in May)-guitar.musicxml"],
  ["tune.v2.xml", "tune.v2-guitar.musicxml"],
  ["Act 1: Dawn.musicxml", "Act 1_ Dawn-guitar.musicxml"],
  ['a<b>c"d|e?f*g\\h.xml', "a_b_c_d_e_f_g_h-guitar.musicxml"],
  ["line\nbreak.xml", "line_break-guitar.musicxml"],
  ["CON.musicxml", "CON_-guitar.musicxml"],
  ["nul.tar.musicxml", "nul_.tar-guitar.musicxml"],
  ["com1.xml", "com1_-guitar.musicxml"],
  ["console.xml", "console-guitar.musicxml"],
  ["tune. .xml", "tune-guitar.musicxml"],
  ["  tune .xml", "tune-guitar.musicxml"],
  ["a\u0308.xml", "\u00e4-guitar.musicxml"],
  ["....xml", "score-guitar.musicxml"],
])("the guitar score of %j is called %j", (name, output) => {
  expect(named(name)).toBe(output);
});

test("no name gets longer than what every file system takes, signs of several bytes included", () => {
  const long = `${"ä🎸".repeat(100)}.musicxml`;
  expect([...named(long)].length).toBeLessThanOrEqual(120);
  expect([...noteNameFor(long)].length).toBeLessThanOrEqual(120);
  expect(Buffer.byteLength(named(long))).toBeLessThanOrEqual(240);
  expect([...named(`${"x".repeat(300)}.xml`)]).toHaveLength(120);
  expect(named(long).endsWith("-guitar.musicxml")).toBe(true);
  expect(noteNameFor(long).endsWith(".musicxml.note.txt")).toBe(true);
  expect(named(long)).not.toContain("\ufffd");
});

test("a guitar score that comes back keeps its name", () => {
  expect(named("tune-guitar.musicxml", { isGuitarScore: true })).toBe("tune-guitar.musicxml");
  expect(named("tune-guitar.mxl", { isGuitarScore: true, isCompressed: true })).toBe("tune-guitar.mxl");
  expect(named("tune-guitar.musicxml")).toBe("tune-guitar-guitar.musicxml");
});

test("a note stands under the whole name of its score, so that two of one stem have a note each", () => {
  expect(noteNameFor("tune.xml")).toBe("tune.xml.note.txt");
  expect(noteNameFor("tune.mxl")).toBe("tune.mxl.note.txt");
  expect(noteNameFor("aux.mxl")).toBe("aux_.mxl.note.txt");
  expect(isScoreName(noteNameFor("tune.xml"))).toBe(false);
});

test("names that differ in capitals or in the way an accent is written are one file somewhere", () => {
  expect(sameFileKey("Ä.xml")).toBe(sameFileKey("a\u0308.XML"));
  expect(hasGuitarSuffix("Tune-Guitar.mxl")).toBe(true);
});

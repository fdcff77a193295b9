import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { chordName } from "../../src/harmony/chord-name.js";
import type { ChordSymbol, DegreeChange } from "../../src/song/chord-symbol.js";
import { parsePitchName } from "../../src/song/pitch.js";
import { isSharedHere, SHARED } from "../support/shared.js";

/** "add 9 -1" as MusicXML states it: type, value, alter. */
function degree(text: string): DegreeChange {
  const [type, value, alter] = text.split(" ");
  return { type: type as DegreeChange["type"], value: Number(value), alter: Number(alter) };
}

function symbol(root: string, kind: string, degrees: readonly string[], bass?: string): ChordSymbol {
  const name = parsePitchName(root);
  if (name === undefined) throw new Error(root);
  return {
    root: name,
    kind,
    degrees: degrees.map(degree),
    bass: bass === undefined ? undefined : parsePitchName(bass),
  };
}

test.each([
  ["C", symbol("C", "major", [])],
  ["Cm7", symbol("C", "minor-seventh", [])],
  ["F#m7b5", symbol("F#", "half-diminished", [])],
  ["F#m7b5", symbol("F#", "minor-seventh", ["alter 5 -1"])],
  ["Bb7(b9)/D", symbol("Bb", "dominant", ["add 9 -1"], "D")],
  ["G7(b9,#11)", symbol("G", "dominant", ["add 9 -1", "add 11 1"])],
  ["G7sus4", symbol("G", "suspended-fourth", ["add 7 0"])],
  ["G13sus4", symbol("G", "suspended-fourth", ["add 7 0", "add 9 0", "add 13 0"])],
  ["G7sus4(b9)", symbol("G", "suspended-fourth", ["add 7 0", "add 9 -1"])],
  ["C6/9", symbol("C", "major-sixth", ["add 9 0"])],
  ["C(add9)", symbol("C", "major", ["add 9 0"])],
  ["Cmaj7", symbol("C", "major", ["add 7 1"])],
  ["C13(no11)", symbol("C", "dominant-13th", ["subtract 11 0"])],
  ["Cmaj7(#5)", symbol("C", "major-seventh", ["alter 5 1"])],
  ["E/G#", symbol("E", "major", [], "G#")],
])("%s is printed as lead sheets print it", (expected, chord) => {
  expect(chordName(chord)).toBe(expected);
});

test.skipIf(!isSharedHere)("every kind of the standard has a name of its own", () => {
  const kinds = Object.keys(JSON.parse(readFileSync(join(SHARED, "standards/kinds.json"), "utf8")));
  const names = kinds.filter((kind) => kind !== "none").map((kind) => chordName(symbol("C", kind, [])));
  expect(new Set(names).size).toBe(kinds.length - 1);
  expect(names.filter((name) => name.includes("-"))).toEqual([]);
});

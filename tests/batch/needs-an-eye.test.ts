import { expect, test } from "vitest";
import { type BatchRow, saidIn } from "../../src/batch/batch-row.js";
import { needAnEye } from "../../src/batch/needs-an-eye.js";
import type { Finding } from "../../src/diagnostics.js";

const warning = (rule: string, message: string, place: Finding["place"] = {}): Finding => ({
  rule,
  severity: "warning",
  place,
  found: "",
  expected: "",
  message,
});

const MOVED = warning("tune-moved-by-octave", "The melody does not lie on its strings as written.");
const CONTAINER = warning("container-unreadable", "The zip has no container.");
const SPREAD = warning("chords-spread", "Two chord symbols stand on one beat.", {
  part: "P1",
  measure: 6,
  beat: 1,
});

const row = (
  fits: "as written" | "moved" | "on more of the neck",
  semitones: number,
  ...findings: readonly Finding[]
): BatchRow => ({
  input: "tune.mxl",
  score: "tune-guitar.musicxml",
  sheet: "tune.mxl",
  outcome: "arranged",
  arranged: { key: "C major", semitones, fits, notes: 10, withChord: 1, moves: 4, movesTooFast: 0 },
  ...saidIn(findings),
});

const reasonsFor = (one: BatchRow) => needAnEye([one], "fluent")[0]?.reasons;

test("a tune that had to be moved is said once, with how far and which way", () => {
  expect(reasonsFor(row("moved", -12, MOVED))).toEqual(["moved 1 octave down to lie on its strings"]);
  expect(reasonsFor(row("moved", -2, MOVED))).toEqual(["moved 2 semitones down to lie on its strings"]);
  expect(reasonsFor(row("moved", 24, MOVED, SPREAD))).toEqual([
    "moved 2 octaves up to lie on its strings",
    "1 other warning: part P1, measure 6, beat 1: Two chord symbols stand on one beat.",
  ]);
});

test("a tune that needs more of the neck, moved or not, is said once", () => {
  const WIDE = warning("melody-on-more-of-the-neck", "The melody is too wide for its strings.", {
    measure: 1,
  });
  expect(reasonsFor(row("on more of the neck", 0, WIDE))).toEqual([
    "needs more strings or frets than asked for",
  ]);
  expect(reasonsFor(row("on more of the neck", -7, MOVED, WIDE, SPREAD))).toEqual([
    "moved 7 semitones down, and needs more strings or frets than asked for there too",
    "1 other warning: part P1, measure 6, beat 1: Two chord symbols stand on one beat.",
  ]);
});

test("of several warnings one that has a place in the music is named first", () => {
  expect(reasonsFor(row("as written", 0, CONTAINER, SPREAD))).toEqual([
    "2 warnings, first: part P1, measure 6, beat 1: Two chord symbols stand on one beat.",
  ]);
  expect(reasonsFor(row("as written", 0, CONTAINER))).toEqual(["1 warning: The zip has no container."]);
});

test("a tune that lies as it is written and of which nothing is said needs no eye", () => {
  expect(needAnEye([row("as written", 0)], "fluent")).toEqual([]);
});

test("few notes with a chord are a reason, but not in a texture that leaves most of them alone", () => {
  const { arranged } = row("as written", 0);
  const thin: BatchRow = {
    ...row("as written", 0),
    ...(arranged === undefined ? {} : { arranged: { ...arranged, withChord: 0.3 } }),
  };
  const reasonsIn = (texture: "full" | "fluent" | "lean") => needAnEye([thin], texture)[0]?.reasons;
  expect(reasonsIn("full")).toEqual(["only 30 % of the notes have a chord"]);
  expect(reasonsIn("fluent")).toEqual(["only 30 % of the notes have a chord"]);
  expect(reasonsIn("lean")).toBeUndefined();
});

import { describe, expect, test } from "vitest";
import type { Fretboard } from "../../src/arranging/candidates/struck-grips.js";
import { Findings, ScoreError } from "../../src/diagnostics.js";
import { chooseKey, fittingTranspositions } from "../../src/keys/choose-key.js";
import { GUITAR } from "../support/guitar.js";
import { tuneOf } from "../support/random-tune.js";

const BOARD: Fretboard = {
  instrument: GUITAR,
  melodyStrings: [1, 2, 3],
};

/** A tune in C of quarter notes at these MIDI pitches. The melody strings reach from 55 to 79. */
const tuneAt = (...midis: number[]) =>
  tuneOf({
    notes: midis.map((midi) => ({ midi, eighths: 2, rest: 0 })),
    chords: [{ at: 0, root: 0, kind: "major" }],
    repeat: undefined,
  });

const choose = (midis: readonly number[], wish: Parameters<typeof chooseKey>[2] = { kind: "keep" }) => {
  const findings = new Findings();
  return {
    ...chooseKey(tuneAt(...midis), BOARD, wish, findings),
    rules: findings.all.map(({ rule }) => rule),
  };
};

describe("to keep its key", () => {
  test("a tune within reach stays where it is, without a word", () => {
    const { transposition, rules } = choose([55, 67, 79]);
    expect(transposition).toEqual({ semitones: 0, interval: "1P" });
    expect(rules).toEqual([]);
  });

  test("a tune below the third string goes up an octave", () => {
    const { transposition, rules } = choose([50, 60]);
    expect(transposition).toEqual({ semitones: 12, interval: "8P" });
    expect(rules).toEqual(["tune-moved-by-octave"]);
  });

  test("a tune that no octave fits goes to the nearest key", () => {
    const { transposition, rules } = choose([57, 81]);
    expect(transposition).toEqual({ semitones: -2, interval: "-2M" });
    expect(rules).toEqual(["tune-moved-to-other-key"]);
  });

  test("a tune wider than its strings uses more of the neck and says so", () => {
    const { board, rules } = choose([52, 60, 79]);
    expect(board.melodyStrings).toEqual([1, 2, 3, 4, 5, 6]);
    expect(board.instrument.frets).toBe(15);
    expect(rules).toContain("melody-on-more-of-the-neck");
  });

  test("a tune wider than the frets asked for goes on to the last fret", () => {
    const { board, rules } = choose([52, 93]);
    expect(board.instrument.frets).toBe(24);
    expect(rules).toContain("melody-on-more-of-the-neck");
  });

  test("a tune wider than any neck is an error that names its range", () => {
    expect(() => choose([30, 100])).toThrow(/F#1 to E7|Gb1 to E7/);
  });
});

describe("in a named key", () => {
  const inKey = (letter: "E" | "A" | "C", alter = 0) =>
    ({ kind: "tonic", tonic: { letter, alter }, mode: undefined }) as const;

  test("one that no signature can be written for is its neighbour that has one", () => {
    const intervalTo = (letter: "D" | "F" | "G" | "B", alter: number, mode?: "minor") =>
      choose([67, 72], { kind: "tonic", tonic: { letter, alter }, mode }).transposition.interval;
    expect([intervalTo("G", 1), intervalTo("D", 1), intervalTo("F", -1)]).toEqual(["-3M", "3m", "3M"]);
    expect([intervalTo("D", -1, "minor"), intervalTo("B", 1)]).toEqual(["3M", "1P"]);
    expect([intervalTo("G", 1, "minor"), intervalTo("D", 1, "minor")]).toEqual(["-2m", "4A"]);
  });

  test("the nearest octave that fits is taken", () => {
    expect(choose([60, 72], inKey("A")).transposition).toEqual({ semitones: -3, interval: "-3m" });
    expect(choose([55, 67], inKey("A")).transposition).toEqual({ semitones: 9, interval: "6M" });
  });

  test("a flat key is spelled with flats", () => {
    expect(choose([60, 72], inKey("E", -1)).transposition.interval).toBe("3m");
  });

  test("a key that cannot fit is an error naming the note and the keys that would", () => {
    const error = (() => {
      try {
        choose([55, 79], inKey("E"));
      } catch (thrown) {
        return thrown;
      }
    })();
    expect(error).toBeInstanceOf(ScoreError);
    expect((error as ScoreError).finding).toMatchObject({
      rule: "key-does-not-fit",
      place: { measure: 1, beat: 2 },
    });
    expect((error as ScoreError).message).toMatch(/E.*G5/);
    expect((error as ScoreError).finding.expected).toBe("one of C");
  });
});

test("the same key comes first, then each next nearer one", () => {
  const keys = fittingTranspositions(tuneAt(60, 72), BOARD).map(({ semitones }) => semitones);
  expect(keys[0]).toBe(0);
  expect(keys.indexOf(-1)).toBeLessThan(keys.indexOf(2));
  expect(keys).not.toContain(-6);
});

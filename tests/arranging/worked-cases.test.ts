import { describe, expect, test } from "vitest";
import type { Arrangement } from "../../src/arrangement/arrangement.js";
import { arrangeTune } from "../../src/arranging/arrange-tune.js";
import { midiAt } from "../../src/guitar/instrument.js";
import { UNTRANSPOSED } from "../../src/song/transposition.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { tuneOf } from "../support/random-tune.js";

// What a teacher writes under a melody note, worked out by hand. Common practice.

/** Semitones of a melody note above the chord's root, by what it is over the chord. */
const ABOVE_ROOT: Readonly<Record<string, number>> = {
  "1": 0,
  b9: 1,
  "9": 2,
  "#9": 3,
  b3: 3,
  "3": 4,
  "4": 5,
  "11": 5,
  b5: 6,
  "5": 7,
  "6": 9,
  b7: 10,
};

/** A melody of notes that all last as long, over one chord. */
interface Phrase {
  readonly kind: string;
  readonly melody: readonly string[];
}

interface Hand {
  readonly notes: 3 | 4;
  readonly melodyString: number;
}

/** Below, the lowest voice of a grip would be a bass; above, the neck is short. */
const LOWEST_FRET = 5;
const HIGHEST_FRET = 12;
/** Of the twelve keys, those in which such a melody lies between the two. */
const FEWEST_KEYS = 6;

/** The phrase over each of the twelve roots at which the melody lies on its string between two frets. */
function inAllKeys({ kind, melody }: Phrase, { notes, melodyString }: Hand) {
  const keys: { readonly root: number; readonly arrangement: Arrangement }[] = [];
  for (let root = 0; root < 12; root += 1) {
    const midis = midisOf(melody, root, melodyString);
    if (midis === undefined) continue;
    const tune = tuneOf({
      notes: midis.map((midi) => ({ midi, eighths: 2, rest: 0 })),
      chords: [{ at: 0, root, kind }],
      repeat: undefined,
    });
    const arrangement = arrangeTune(tune, UNTRANSPOSED, {
      ...PLAIN_WISHES,
      texture: "full",
      instrument: GUITAR,
      notes,
      melodyStrings: [melodyString],
    });
    if (arrangement !== undefined) keys.push({ root, arrangement });
  }
  return keys;
}

/** The lowest octave in which all notes lie on the string; each note as near as can be to the one before. */
function midisOf(melody: readonly string[], root: number, string: number): readonly number[] | undefined {
  for (let octave = 3; octave <= 6; octave += 1) {
    const midis: number[] = [];
    for (const degree of melody) {
      const midi = 12 * octave + root + (ABOVE_ROOT[degree] ?? 0);
      const before = midis.at(-1) ?? midi;
      midis.push(midi - 12 * Math.round((midi - before) / 12));
    }
    const frets = midis.map((midi) => midi - midiAt(GUITAR, string, 0));
    if (frets.every((fret) => fret >= LOWEST_FRET && fret <= HIGHEST_FRET)) return midis;
  }
  return undefined;
}

/** Degrees under each melody note, low to high; "single" where it is alone. */
const degreesOf = ({ events, supports }: Arrangement): readonly string[] =>
  events.map((event) =>
    event.attack === "single" ? "single" : event.supports.map((index) => supports[index]?.degree).join(" "),
  );

const stringsOf = ({ supports }: Arrangement): readonly number[] =>
  [...new Set(supports.map(({ string }) => string))].toSorted((a, b) => a - b);

function widestReach({ events, supports, melody }: Arrangement): number {
  const reaches = events.map((event) => {
    const notes = [...event.supports.map((index) => supports[index]), melody[event.melodyNote ?? -1]];
    const frets = notes.flatMap((note) => (note === undefined || note.fret === 0 ? [] : [note.fret]));
    return frets.length === 0 ? 0 : Math.max(...frets) - Math.min(...frets);
  });
  return Math.max(...reaches);
}

type Case = readonly [name: string, phrase: Phrase, expected: readonly string[]];

function holdInAllKeys(cases: readonly Case[], hand: Hand, supportStrings: readonly number[]) {
  test.each(cases)("%s", (_, phrase, expected) => {
    const keys = inAllKeys(phrase, hand);
    expect(keys.length).toBeGreaterThanOrEqual(FEWEST_KEYS);
    for (const { root, arrangement } of keys) {
      expect({ root, degrees: degreesOf(arrangement) }).toEqual({ root, degrees: expected });
      expect(stringsOf(arrangement).every((string) => supportStrings.includes(string))).toBe(true);
      // Four frets: from the first to the fourth.
      expect(widestReach(arrangement)).toBeLessThanOrEqual(3);
    }
  });
}

describe("three notes with the melody on the second string", () => {
  holdInAllKeys(
    [
      ["the root of a major triad stands on third and fifth", { kind: "major", melody: ["1"] }, ["3 5"]],
      ["its third on fifth and root", { kind: "major", melody: ["3"] }, ["5 1"]],
      ["its fifth on root and third", { kind: "major", melody: ["5"] }, ["1 3"]],
      ["the sixth on root and third: it stands for the fifth", { kind: "major", melody: ["6"] }, ["1 3"]],
      [
        "the fifth that goes to the sixth and back keeps what is under it",
        { kind: "major", melody: ["5", "6", "5"] },
        ["1 3", "1 3", "1 3"],
      ],
      [
        "the fourth that goes to the third keeps what is under it",
        { kind: "major", melody: ["4", "3"] },
        ["5 1", "5 1"],
      ],
      [
        "the ninth that goes to the root keeps what is under it",
        { kind: "major", melody: ["9", "1"] },
        ["3 5", "3 5"],
      ],
      [
        "the fourth that goes to a minor third keeps what is under it",
        { kind: "minor", melody: ["4", "b3"] },
        ["5 1", "5 1"],
      ],
      ["the third of a minor triad stands on fifth and root", { kind: "minor", melody: ["b3"] }, ["5 1"]],
    ],
    { notes: 3, melodyString: 2 },
    [3, 4],
  );

  test.each(["4", "5"])("a fourth that goes to %s leaves a minor triad its third", (next) => {
    const keys = inAllKeys({ kind: "minor", melody: ["4", next] }, { notes: 3, melodyString: 2 });
    expect(keys.length).toBeGreaterThanOrEqual(FEWEST_KEYS);
    for (const { arrangement } of keys) expect(degreesOf(arrangement)[0]?.split(" ")).toContain("b3");
  });

  test.each(["1", "9", "3", "5", "6"])("a dominant seventh has its seventh under %s", (degree) => {
    const keys = inAllKeys({ kind: "dominant", melody: [degree] }, { notes: 3, melodyString: 2 });
    expect(keys.length).toBeGreaterThanOrEqual(FEWEST_KEYS);
    for (const { arrangement } of keys) expect(degreesOf(arrangement)[0]?.split(" ")).toContain("b7");
  });

  test("and not where the melody is the seventh", () => {
    for (const { arrangement } of inAllKeys(
      { kind: "dominant", melody: ["b7"] },
      { notes: 3, melodyString: 2 },
    ))
      expect(degreesOf(arrangement)[0]?.split(" ")).not.toContain("b7");
  });
});

describe("four notes with the melody on the first string", () => {
  const minor = "minor-seventh";
  holdInAllKeys(
    [
      ["a minor seventh is drop 2 under its fifth", { kind: minor, melody: ["5"] }, ["b3 b7 1"]],
      [
        "from the fifth to the eleventh the same three stay",
        { kind: minor, melody: ["5", "11"] },
        ["b3 b7 1", "b3 b7 1"],
      ],
      ["under its third it stands on fourths", { kind: minor, melody: ["b3"] }, ["1 11 b7"]],
      ["under the ninth the root is left out", { kind: minor, melody: ["9"] }, ["b7 b3 5"]],
      ["under its root it is drop 2", { kind: minor, melody: ["1"] }, ["b7 b3 5"]],
      [
        "from the ninth to the root the same three stay",
        { kind: minor, melody: ["9", "1"] },
        ["b7 b3 5", "b7 b3 5"],
      ],
      [
        "a half-diminished is drop 2 under its root",
        { kind: "half-diminished", melody: ["1"] },
        ["b7 b3 b5"],
      ],
      ["and under its seventh", { kind: "half-diminished", melody: ["b7"] }, ["b5 1 b3"]],
    ],
    { notes: 4, melodyString: 1 },
    [2, 3, 4],
  );

  test("a dominant under its raised and then its lowered ninth keeps the same three", () => {
    const keys = inAllKeys({ kind: "dominant", melody: ["#9", "b9"] }, { notes: 4, melodyString: 1 });
    expect(keys.length).toBeGreaterThanOrEqual(FEWEST_KEYS);
    for (const { arrangement } of keys) {
      const [first, second] = degreesOf(arrangement);
      expect(["b7 3 5", "3 5 b7"]).toContain(first);
      expect(second).toBe(first);
    }
  });
});

test("pickups before the first chord are single", () => {
  const tune = tuneOf({
    notes: [67, 69, 71, 72].map((midi) => ({ midi, eighths: 1, rest: 0 })),
    chords: [{ at: 3, root: 0, kind: "major" }],
    repeat: undefined,
  });
  const arrangement = arrangeTune(tune, UNTRANSPOSED, {
    ...PLAIN_WISHES,
    texture: "full",
    instrument: GUITAR,
  });
  expect(arrangement?.events.map(({ attack }) => attack)).toEqual(["single", "single", "single", "struck"]);
});

test("sixteenths on weak beats and a quick chromatic note between chord tones have no chord of their own", () => {
  // Eighths at twice the tempo last as long as sixteenths do.
  const quick = (midis: readonly number[], tempo: number) =>
    arrangeTune(
      tuneOf({
        notes: midis.map((midi) => ({ midi, eighths: 1, rest: 0 })),
        chords: [{ at: 0, root: 0, kind: "major" }],
        repeat: undefined,
      }),
      UNTRANSPOSED,
      { ...PLAIN_WISHES, texture: "full", instrument: GUITAR, tempo },
    )?.events.map(({ attack }) => attack === "struck");
  expect(quick([72, 76, 79, 76], 200)).toEqual([true, false, true, false]);
  expect(quick([72, 73, 74, 75, 76], 100)).toEqual([true, false, true, false, true]);
});

import fc from "fast-check";
import { expect, test } from "vitest";
import type { TuneWishes } from "../../src/arranging/arrange-settings.js";
import { arrangingProblem } from "../../src/arranging/tune-problem.js";
import type { Tune } from "../../src/song/tune.js";
import type { AvoidWish, Wish } from "../../src/wishes/wishes.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { tuneOf, tuneSketches } from "../support/random-tune.js";

/** A tune with a bass under it is one of several voices. */
const walking = (wishes: readonly Wish[] = []): TuneWishes => ({
  ...PLAIN_WISHES,
  instrument: GUITAR,
  texture: "fluent",
  bass: "walking",
  wishes,
});

/** In the first bar. */
const without = (tune: Tune, avoided: Pick<AvoidWish, "fingers" | "strings" | "frets">): Wish => ({
  kind: "avoid",
  from: 0,
  to: tune.measures[0]?.length ?? 0,
  ...avoided,
  wording: "a wish",
});

/** The melody note can be played all the same. */
const anyAvoided = fc.record({
  fingers: fc.subarray([1, 2, 3, 4] as const, { maxLength: 2 }),
  strings: fc.subarray([4, 5, 6], { maxLength: 2 }),
  frets: fc.constant(undefined),
});

const FOUR_BARS = tuneOf({
  notes: [64, 65, 67, 69, 67, 65, 64, 62, 64, 60].map((midi) => ({ midi, eighths: 3, rest: 0 })),
  chords: [
    { at: 0, root: 0, kind: "major" },
    { at: 8, root: 5, kind: "major-seventh" },
    { at: 16, root: 7, kind: "dominant" },
    { at: 24, root: 0, kind: "major" },
  ],
  repeat: undefined,
});

test("a wish for one bar leaves what the voices of the others can do as it was worked out", () => {
  const before = arrangingProblem(FOUR_BARS, walking());
  const after = arrangingProblem(
    FOUR_BARS,
    walking([without(FOUR_BARS, { fingers: [], strings: [4], frets: undefined })]),
  );
  const isFirstBar = before.events.map(({ onset }) => onset < (FOUR_BARS.measures[0]?.length ?? 0));
  const isSame = before.columns.map((column, index) => column === after.columns[index]);
  expect(isFirstBar.some((isFirst, index) => isFirst && isSame[index])).toBe(false);
  // What rings over the barline hangs on the bar before.
  expect(isSame.filter((_, index) => isFirstBar[index] === false).filter(Boolean).length).toBeGreaterThan(
    isFirstBar.filter((isFirst) => !isFirst).length / 2,
  );
});

test("what was asked of a tune before changes nothing of what is asked now", () => {
  fc.assert(
    fc.property(tuneSketches({ mostNotes: 8, lowest: 60, highest: 72 }), anyAvoided, (sketch, avoided) => {
      const tune = tuneOf(sketch);
      const wishes = walking([without(tune, avoided)]);
      arrangingProblem(tune, walking());
      const after = arrangingProblem(tune, wishes);
      const alone = arrangingProblem(tuneOf(sketch), wishes);
      const all = ({ columns }: typeof after) => columns.map(({ candidates }) => candidates);
      expect(all(after)).toEqual(all(alone));
    }),
    { numRuns: 25 },
  );
});

const fluent = (wishes: readonly Wish[] = []): TuneWishes => ({
  ...PLAIN_WISHES,
  instrument: GUITAR,
  texture: "fluent",
  wishes,
});

/** A tune longer than what is kept from tune to tune. */
const LONG = tuneOf({
  notes: Array.from({ length: 1100 }, (_, index) => ({ midi: 62 + ((index * 7) % 11), eighths: 2, rest: 0 })),
  chords: Array.from({ length: 275 }, (_, bar) => ({ at: bar * 8, root: (bar * 5) % 12, kind: "minor" })),
  repeat: undefined,
});

test.each([
  ["a short tune", FOUR_BARS],
  ["a long one", LONG],
])("of %s asked again, and of what follows a wish in it, nothing is worked out twice", (_, tune) => {
  const wishes = fluent([without(tune, { fingers: [1], strings: [], frets: undefined })]);
  const [once, again] = [arrangingProblem(tune, wishes), arrangingProblem(tune, wishes)];
  expect(again.columns.findIndex((column, index) => column !== once.columns[index])).toBe(-1);
});

import { describe, expect, test } from "vitest";
import { COSTS } from "../../src/arranging/costs/cost-table.js";
import { ringingMelody } from "../../src/arranging/events/ringing-melody.js";
import { tuneEvents } from "../../src/arranging/events/tune-events.js";
import { textureNamed } from "../../src/arranging/textures/texture.js";
import { arrangingProblem } from "../../src/arranging/tune-problem.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { tuneOf } from "../support/random-tune.js";

/** C major under G, a rest of so many eighths of 0.3 s, and C above it. */
const overRest = (rest: number) =>
  tuneOf({
    notes: [
      { midi: 67, eighths: 4 - rest, rest },
      { midi: 72, eighths: 4, rest: 0 },
    ],
    chords: [{ at: 0, root: 0, kind: "major" }],
    repeat: undefined,
  });

describe("where the melody rests", () => {
  test.each([
    [0, true],
    [1, true],
    [3, true],
  ])("for %s eighths of 0.3 s a chord may ring on: %s", (rest, mayRing) => {
    const [, event] = tuneEvents(overRest(rest), 100);
    expect(event?.mayBeHeldInto).toBe(mayRing);
  });

  test("it may not where the rest is long", () => {
    const [, event] = tuneEvents(overRest(3), 50);
    expect(event?.mayBeHeldInto).toBe(false);
  });

  test("its own note ends where it is written to", () => {
    const [before, event] = tuneEvents(overRest(0), 100);
    if (event === undefined) throw new Error("two notes");
    expect(ringingMelody(before, event)).toEqual({ midi: 67, degree: "5" });
    const [rested, later] = tuneEvents(overRest(1), 100);
    expect(later && ringingMelody(rested, later)).toBeUndefined();
  });
});

/** C major: a note and, off the beat, so many eighths of another. */
const heldUnder = (eighths: number, midi = 65) => {
  const tune = tuneOf({
    notes: [
      { midi: midi - 1, eighths: 3, rest: 0 },
      { midi, eighths, rest: 0 },
      { midi: midi - 1, eighths: 4, rest: 0 },
    ],
    chords: [{ at: 0, root: 0, kind: "major" }],
    repeat: undefined,
  });
  const wishes = { ...PLAIN_WISHES, texture: "fluent" as const, instrument: GUITAR };
  const column = arrangingProblem(tune, wishes).columns[1];
  return (column?.candidates ?? []).flatMap(({ attack, degrees, strings }) =>
    attack === "held" ? [{ count: degrees.length, melodyOn: strings.at(-1)?.string ?? 0 }] : [],
  );
};

test("one finger of a chord stays under a quick note, and no less than two under another on the two highest strings", () => {
  const onTwoHighest = (held: ReturnType<typeof heldUnder>) =>
    held.filter(({ melodyOn }) => melodyOn <= 2).map(({ count }) => count);
  expect(onTwoHighest(heldUnder(1, 77))).toContain(1);
  expect(Math.min(...onTwoHighest(heldUnder(2, 77)))).toBe(2);
});

test("under a melody on the third string one finger stays however long the note is", () => {
  const onThird = heldUnder(2).filter(({ melodyOn }) => melodyOn === 3);
  expect(Math.min(...onThird.map(({ count }) => count))).toBe(1);
});

test("a long note right after a short one may stay over its chord in the full texture, or be struck in haste", () => {
  const [, atOnce, , later] = tuneEvents(
    tuneOf({
      notes: [
        { midi: 64, eighths: 1, rest: 0 },
        { midi: 67, eighths: 4, rest: 0 },
        { midi: 64, eighths: 4, rest: 0 },
        { midi: 67, eighths: 4, rest: 0 },
      ],
      chords: [{ at: 0, root: 0, kind: "major" }],
      repeat: undefined,
    }),
    150,
  );
  if (atOnce === undefined || later === undefined) throw new Error("four notes");
  const { heldCost, struckCost, singleCost } = textureNamed("full", COSTS, "bar");
  expect(atOnce.secondsSince).toBeCloseTo(0.2);
  expect(heldCost(atOnce)).toBe(0);
  expect(struckCost(atOnce)).toBeGreaterThan(0);
  expect(singleCost(atOnce)).toBeLessThan(COSTS.texture.bareFull);
  expect(heldCost(later)).toBeUndefined();
  expect(struckCost(later)).toBe(0);
  expect(singleCost(later)).toBe(COSTS.texture.bareFull);
});

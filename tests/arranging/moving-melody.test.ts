import fc from "fast-check";
import { expect, test } from "vitest";
import type { Arrangement } from "../../src/arrangement/arrangement.js";
import { arrangeTune } from "../../src/arranging/arrange-tune.js";
import { arrangingProblem } from "../../src/arranging/tune-problem.js";
import { UNTRANSPOSED } from "../../src/song/transposition.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { type TuneSketch, tuneOf, tuneSketches } from "../support/random-tune.js";

/** Eighths and longer notes over C major. */
const overC = (notes: readonly (readonly [midi: number, eighths: number])[]): TuneSketch => ({
  notes: notes.map(([midi, eighths]) => ({ midi, eighths, rest: 0 })),
  chords: [{ at: 0, root: 0, kind: "major" }],
  repeat: undefined,
});

const arranged = (sketch: TuneSketch, texture: "full" | "fluent", tempo: number): Arrangement => {
  const wishes = { ...PLAIN_WISHES, texture, tempo, instrument: GUITAR };
  const arrangement = arrangeTune(tuneOf(sketch), UNTRANSPOSED, wishes);
  if (arrangement === undefined) throw new Error("no way");
  return arrangement;
};

test("in the full texture an eighth off the beat moves over the grip that is there, and one with time has its own", () => {
  // E on the beat, the chord's own G after it: 0.3 s an eighth, then 1.5 s.
  const attacks = (tempo: number) =>
    arranged(
      overC([
        [64, 1],
        [67, 1],
        [64, 2],
      ]),
      "full",
      tempo,
    ).events.map(({ attack }) => attack);
  expect(attacks(100)).toEqual(["struck", "held", "struck"]);
  expect(attacks(20)).toEqual(["struck", "struck", "struck"]);
});

test("in the full texture, too, a chord that has not changed is struck again on the beat rather than off it", () => {
  // G, its repetition off the beat and A on the next: the repetition rings on.
  const { events } = arranged(
    overC([
      [67, 1],
      [67, 1],
      [69, 2],
    ]),
    "full",
    100,
  );
  expect(events.map(({ attack }) => attack)).toEqual(["struck", "held", "struck"]);
});

test("in the full texture a neighbour note is struck over the grip that is there, whatever tone that lacks or doubles", () => {
  // D, C, D over Bb7, a quarter each: over the fifth, the seventh and the root no hand goes away and comes back.
  const { events, supports } = arranged(
    {
      ...overC([
        [74, 2],
        [72, 2],
        [74, 2],
      ]),
      chords: [{ at: 0, root: 10, kind: "dominant" }],
    },
    "full",
    100,
  );
  expect(events.map(({ attack }) => attack)).toEqual(["struck", "struck", "struck"]);
  const places = events.map((event) =>
    event.supports.map((index) => `${supports[index]?.string}:${supports[index]?.fret}`).join(),
  );
  expect(new Set(places).size).toBe(1);
  expect(events[1]?.leftOut).toContainEqual({ degree: "3", reason: "grip-stays" });
});

test("an eighth off the beat, or a note right after another, is never struck with a chord of its own", () => {
  let seen = 0;
  fc.assert(
    fc.property(
      tuneSketches({ lowest: 55, highest: 79, mostNotes: 8 }),
      fc.constantFrom("full" as const, "fluent" as const),
      (sketch, texture) => {
        const wishes = { ...PLAIN_WISHES, texture, tempo: 80, instrument: GUITAR };
        const { events, columns } = arrangingProblem(tuneOf(sketch), wishes);
        for (const [index, event] of events.entries()) {
          const isSoon = event.seconds <= 0.4 || event.secondsSince <= 0.2;
          const isQuick = event.weight === 0 && isSoon && event.isNoteOnset;
          if (!isQuick || event.isChordChange) continue;
          seen += 1;
          expect(columns[index]?.candidates.map(({ attack }) => attack)).not.toContain("struck");
        }
      },
    ),
    { numRuns: 20 },
  );
  expect(seen).toBeGreaterThan(0);
});

test("a melody note that stretches the hand over what rings on costs more the less time there is for it", () => {
  // From A4 at fret 5 to D5 at fret 10 of string 1 over Am7 at fret 5: five frets from index to little finger.
  const sketch: TuneSketch = {
    notes: [
      { midi: 69, eighths: 2, rest: 0 },
      { midi: 74, eighths: 2, rest: 0 },
    ],
    chords: [{ at: 0, root: 9, kind: "minor-seventh" }],
    repeat: undefined,
  };
  const costOf = (tempo: number) => {
    const wishes = {
      ...PLAIN_WISHES,
      texture: "lean" as const,
      tempo,
      instrument: GUITAR,
      melodyStrings: [1],
    };
    const held = arrangingProblem(tuneOf(sketch), wishes).columns[1]?.candidates.find(
      ({ attack, strings, fingers }) =>
        attack === "held" &&
        strings.map(({ fret }) => fret).join() === "5,5,5,10" &&
        fingers.join() === "1,1,1,4",
    );
    return held?.cost ?? Number.NaN;
  };
  // 27 mm beyond what goes at tempo; four seconds a note leave a third of the price.
  expect(costOf(120)).toBeGreaterThan(costOf(15) + 100);
});

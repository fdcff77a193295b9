import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { arrangeScore } from "../../src/arrange-score.js";
import type { Arrangement } from "../../src/arrangement/arrangement.js";
import { arrangeTune } from "../../src/arranging/arrange-tune.js";
import { COSTS } from "../../src/arranging/costs/cost-table.js";
import { melodyPlaceOf } from "../../src/arranging/grips/grip-rows.js";
import { type ArrangingProblem, arrangingProblem } from "../../src/arranging/tune-problem.js";
import { Findings } from "../../src/diagnostics.js";
import { chordOf } from "../../src/harmony/chord-tones.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { cheapestWay } from "../../src/search/cheapest-path.js";
import { plainCheapestWay } from "../../src/search/reference-search.js";
import { UNTRANSPOSED } from "../../src/song/transposition.js";
import type { Tune } from "../../src/song/tune.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { type TuneSketch, tuneOf, tuneSketches } from "../support/random-tune.js";
import { attributes, FOUR_FOUR, harmony, leadSheet, note } from "../support/score-text.js";

/** Quarters over one chord, at a hundred a minute. */
const over = (kind: string, midis: readonly number[]): TuneSketch => ({
  notes: midis.map((midi) => ({ midi, eighths: 2, rest: 0 })),
  chords: [{ at: 0, root: 0, kind }],
  repeat: undefined,
});

/** Tunes over one chord, which go up as often as down. */
const overOneChord = (mostNotes: number): fc.Arbitrary<TuneSketch> =>
  fc
    .tuple(
      fc.constantFrom("major", "minor", "dominant", "minor-seventh", "major-sixth"),
      fc.array(fc.integer({ min: 57, max: 79 }), { minLength: 3, maxLength: mostNotes }),
    )
    .map(([kind, midis]) => over(kind, midis));

const WISHES = { ...PLAIN_WISHES, texture: "fluent" as const, instrument: GUITAR };

const arranged = (
  tune: Tune,
  texture: "full" | "fluent" | "lean" = "fluent",
  notes: "auto" | 3 = "auto",
): Arrangement => {
  const arrangement = arrangeTune(tune, UNTRANSPOSED, { ...WISHES, texture, notes });
  if (arrangement === undefined) throw new Error("no way");
  return arrangement;
};

/** What is left of the melody at each event. */
const leftIn = ({ events, supports }: Arrangement) =>
  events.map((event) =>
    event.supports.flatMap((index) => supports[index] ?? []).filter((one) => one.leftByMelody !== undefined),
  );

/** The ways to play an event in which the melody note of before rings on. */
const waysToLeave = ({ columns }: ArrangingProblem, column: number) =>
  (columns[column]?.candidates ?? []).filter(({ keepsMelody }) => keepsMelody);

describe("over C major", () => {
  test("the fifth rings on where the tune goes up from it to the root on the next string", () => {
    const { events, supports, melody } = arranged(tuneOf(over("major", [67, 72, 67, 72])), "fluent", 3);
    // x x 10 9 8 x, then x x 10 9 8 8: the hand stays as it is.
    const there = events[1]?.supports.map((index) => supports[index]);
    expect(events[1]?.attack).toBe("held");
    expect(there?.map((one) => one?.degree)).toEqual(["1", "3", "5"]);
    expect(there?.at(-1)).toMatchObject({ ...melody[0], midi: 67, leftByMelody: 0 });
    // It stops where the tune comes back to its string.
    expect(there?.at(-1)?.end).toBe(events[2]?.onset);
  });

  test("so does a root that is in the bass already: no hand lifts that finger by itself", () => {
    // x 3 2 0 1 x, then the same with the E on top.
    const left = waysToLeave(arrangingProblem(tuneOf(over("major", [60, 64])), WISHES), 1);
    expect(
      left.map(({ strings }) => strings.map(({ string, fret }) => `${string}:${fret}`).join(" ")),
    ).toContain("5:3 4:2 3:0 2:1 1:0");
  });

  test.each([
    ["a note that is no tone of the chord", 65, 69],
    ["a note a second under the next", 67, 69],
    ["a minor ninth under the next", 64, 77],
    ["a note above the next", 72, 67],
  ])("%s does not", (_, before, after) => {
    const problem = arrangingProblem(tuneOf(over("major", [before, after])), WISHES);
    expect(waysToLeave(problem, 1)).toEqual([]);
  });

  test("a second does not blur the line, but for a minor seventh that goes up to its root and names the chord", () => {
    const left = (kind: string, midis: readonly number[]) =>
      waysToLeave(arrangingProblem(tuneOf(over(kind, midis)), WISHES), 1).map(({ degrees }) =>
        degrees.at(-1),
      );
    // x 3 2 3 x x, then C4 on the second string over it.
    expect(new Set(left("dominant", [58, 60]))).toEqual(new Set(["b7"]));
    expect(left("dominant", [60, 62])).toEqual([]);
    expect(left("major-sixth", [57, 59])).toEqual([]);
  });

  test("a note does not ring on into another chord", () => {
    const sketch = over("major", [67, 72]);
    const chords = [...sketch.chords, { at: 2, root: 5, kind: "major" }];
    expect(waysToLeave(arrangingProblem(tuneOf({ ...sketch, chords }), WISHES), 1)).toEqual([]);
    expect(waysToLeave(arrangingProblem(tuneOf(sketch), WISHES), 1)).not.toEqual([]);
  });

  test("nor over a rest", () => {
    const [first, second] = over("major", [67, 72]).notes;
    if (first === undefined || second === undefined) throw new Error("two notes");
    const sketch = { ...over("major", []), notes: [{ ...first, rest: 1 }, second] };
    expect(waysToLeave(arrangingProblem(tuneOf(sketch), WISHES), 1)).toEqual([]);
  });
});

test("a note that is marked to be short does not ring on", () => {
  const leftIn = (marks: string): number => {
    const lead = leadSheet(
      attributes(FOUR_FOUR) + harmony("C") + note("G4", 4, { after: marks }) + note("C5", 4) + note("G4", 8),
    );
    const { arrangement } = arrangeScore(parseXml(lead), completeOptions({ notes: "3" }), new Findings());
    return arrangement.supports.filter(({ leftByMelody }) => leftByMelody !== undefined).length;
  };
  expect(leftIn("")).toBe(1);
  for (const mark of ["staccato", "staccatissimo", "breath-mark"])
    expect(leftIn(`<notations><articulations><${mark}/></articulations></notations>`)).toBe(0);
  expect(leftIn("<notations><articulations><tenuto/></articulations></notations>")).toBe(1);
});

test("lifting the finger for nothing costs what letting a tone of the chord go costs", () => {
  const problem = arrangingProblem(tuneOf(over("dominant", [67, 72])), WISHES);
  const [link] = problem.links;
  const [before, after] = problem.columns;
  if (link === undefined || before === undefined || after === undefined) throw new Error("two events");
  // 8 x 8 9 8 x under one barre, and over it the C on string 1, with or without the G.
  const rowOf = (column: typeof before, frets: string, fingers: string) => {
    const found = column.candidates.findIndex(
      (one) =>
        one.attack !== "single" &&
        one.strings.map(({ string, fret }) => `${string}:${fret}`).join(" ") === frets &&
        one.fingers.join("") === fingers &&
        (column === before || one.attack === "held"),
    );
    expect(found).toBeGreaterThanOrEqual(0);
    return found;
  };
  const grip = rowOf(before, "6:8 4:8 3:9 2:8", "1121");
  const [left, lifted] = [
    rowOf(after, "6:8 4:8 3:9 2:8 1:8", "11211"),
    rowOf(after, "6:8 4:8 3:9 1:8", "1121"),
  ];
  const stepCost = problem.stepCost(link);
  expect(stepCost(grip, lifted) - stepCost(grip, left)).toBe(COSTS.voicing.droppedWhileHeld.other);
});

test("what is left of a melody is a tone of its chord, on a lower string, where it was played", () => {
  let seen = 0;
  fc.assert(
    fc.property(
      fc.oneof(overOneChord(8), tuneSketches({ lowest: 55, highest: 79, mostNotes: 8 })),
      fc.constantFrom("full" as const, "fluent" as const, "lean" as const),
      (sketch, texture) => {
        const tune = tuneOf(sketch);
        const arrangement = arranged(tune, texture);
        const { events, melody } = arrangement;
        for (const [index, left] of leftIn(arrangement).entries()) {
          const event = events[index];
          const symbol = tune.chords[event?.chord ?? -1]?.symbol;
          for (const one of left.filter(({ onset }) => onset === event?.onset)) {
            seen += 1;
            const note = tune.melody[one.leftByMelody ?? -1];
            const next = tune.melody[event?.melodyNote ?? -1];
            expect(event?.attack).toBe("held");
            expect(one).toMatchObject({ ...melody[one.leftByMelody ?? -1], midi: note?.midi });
            expect((note?.onset ?? 0) + (note?.length ?? 0)).toBe(one.onset);
            // A minor seventh goes up to its root by a second.
            const least = one.degree === "b7" ? 2 : 3;
            expect((next?.midi ?? 0) - one.midi).toBeGreaterThanOrEqual(least);
            expect(melody[event?.melodyNote ?? -1]?.string).toBeLessThan(one.string);
            expect(symbol && chordOf(symbol).tones.map(({ pitchClass }) => pitchClass)).toContain(
              one.midi % 12,
            );
          }
        }
      },
    ),
    // One more than those drawn, so that there is one at all.
    { numRuns: 151, examples: [[over("major-sixth", [67, 72, 67, 72]), "fluent"]] },
  );
  expect(seen).toBeGreaterThan(0);
});

test("it rings on over some of the chord, never alone", () => {
  let seen = 0;
  fc.assert(
    fc.property(overOneChord(5), (sketch) => {
      // Under quick notes one finger that stays is enough.
      const notes = sketch.notes.map((note) => ({ ...note, eighths: 1 }));
      const problem = arrangingProblem(tuneOf({ ...sketch, notes }), WISHES);
      for (const column of problem.columns.keys())
        for (const { degrees } of waysToLeave(problem, column)) {
          seen += 1;
          expect(degrees.length).toBeGreaterThan(1);
        }
    }),
    { numRuns: 60 },
  );
  expect(seen).toBeGreaterThan(0);
});

test("a way to leave a melody note comes from a grip that has it, and from no other", () => {
  let [reached, refused] = [0, 0];
  fc.assert(
    fc.property(overOneChord(4), (sketch) => {
      const problem = arrangingProblem(tuneOf(sketch), WISHES);
      for (const link of problem.links.filter(({ from, to }) => to === from + 1)) {
        const [earlier, later] = [problem.columns[link.from], problem.columns[link.to]];
        const stepCost = problem.stepCost(link);
        for (const [to, one] of (later?.candidates ?? []).entries()) {
          if (!one.keepsMelody || earlier === undefined) continue;
          const place = one.strings[one.degrees.length - 1];
          const finger = one.fingers[one.degrees.length - 1];
          for (let from = 0; from < earlier.size; from += 1) {
            const isThere = Number.isFinite(stepCost(from, to));
            if (isThere) {
              reached += 1;
              expect(melodyPlaceOf(earlier.melody[from] ?? -1)).toEqual({ ...place, finger });
            } else refused += 1;
          }
        }
      }
    }),
    { numRuns: 30, seed: 7 },
  );
  expect(reached).toBeGreaterThan(0);
  expect(refused).toBeGreaterThan(0);
});

test("the cheapest way is the cheapest with such ways among the others, too", () => {
  let used = 0;
  for (const midis of [
    [67, 72, 69, 67],
    [64, 67, 72],
    [64, 70, 72, 67],
  ])
    for (const kind of ["major", "dominant"]) {
      const problem = arrangingProblem(tuneOf(over(kind, midis)), WISHES);
      const way = cheapestWay(problem);
      expect(way?.cost).toBe(plainCheapestWay(problem)?.cost);
      used += (way?.choices ?? []).filter(
        (choice, column) => problem.columns[column]?.keepsMelody[choice] === 1,
      ).length;
    }
  expect(used).toBeGreaterThan(0);
});

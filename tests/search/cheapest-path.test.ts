import fc from "fast-check";
import { expect, test } from "vitest";
import { arrangingProblem } from "../../src/arranging/tune-problem.js";
import { questionsAmong } from "../../src/search/among-kept.js";
import type { KeptChoices } from "../../src/search/bucket-elimination.js";
import { cheapestWay, exactCostThroughEach } from "../../src/search/cheapest-path.js";
import { costOfWay, type PathProblem, type Way } from "../../src/search/choice-graph.js";
import { plainCheapestWay } from "../../src/search/reference-search.js";
import { looseEnds, rootsOf } from "../../src/search/tree-dp.js";
import { bruteForce, thinned } from "../support/brute-force.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { randomProblems } from "../support/random-problem.js";
import { tuneOf, tuneSketches } from "../support/random-tune.js";

test("both searches find what trying every way finds, with and without jumps", () => {
  fc.assert(
    fc.property(randomProblems, (problem) => {
      const best = bruteForce(problem);
      const clever = cheapestWay(problem);
      const plain = plainCheapestWay(problem);
      expect(clever?.cost ?? Number.POSITIVE_INFINITY).toBe(best);
      expect(plain?.cost ?? Number.POSITIVE_INFINITY).toBe(best);
      if (clever !== undefined) expect(costOfWay(problem, clever.choices)).toBe(best);
    }),
    { numRuns: 3000 },
  );
});

test("where only a way below some cost is wanted, the cheapest is found if it is, and else none", () => {
  const seen = { found: 0, none: 0 };
  fc.assert(
    fc.property(randomProblems, fc.integer({ min: -3, max: 3 }), (problem, more) => {
      const cheapest = cheapestWay({ ...problem });
      const below = (cheapest?.cost ?? 0) + more;
      const way = cheapestWay(problem, below);
      expect(way).toEqual(more > 0 ? cheapest : undefined);
      seen[way === undefined ? "none" : "found"] += 1;
    }),
    { numRuns: 600 },
  );
  expect(Math.min(seen.found, seen.none)).toBeGreaterThan(100);
});

test("the cost through a choice is that of the cheapest way that makes it, loops and all, or no more where that is dear", () => {
  fc.assert(
    fc.property(randomProblems, fc.integer({ min: 0, max: 30 }), (problem, slack) => {
      const way = cheapestWay(problem);
      if (way === undefined) return;
      exactCostThroughEach(problem, way, slack).forEach((column, index) => {
        column.forEach((cost, choice) => {
          const clamped: PathProblem = {
            ...problem,
            choiceCost: (at, which) =>
              at === index && which !== choice ? Number.POSITIVE_INFINITY : problem.choiceCost(at, which),
          };
          const exact = bruteForce(clamped);
          if (exact <= way.cost + slack) expect(cost).toBe(exact);
          else {
            expect(cost).toBeGreaterThan(way.cost + slack);
            expect(cost).toBeLessThanOrEqual(exact);
          }
        });
      });
    }),
    { numRuns: 1000 },
  );
});

test("of equal ways the one listed first is found, whatever is left out of the search on the way to it", () => {
  fc.assert(
    fc.property(randomProblems, (problem) => {
      const found = cheapestWay(problem);
      if (found === undefined) return;
      // What hangs loose from the loops is decided after them.
      const first = rootsOf(looseEnds(problem));
      const rival = everyWay(problem.sizes)
        .filter((choices) => costOfWay(problem, choices) === found.cost)
        .map((choices) => first.map((column) => choices[column] ?? 0))
        .reduce((one, other) => (isListedBefore(other, one) ? other : one));
      expect(first.map((column) => found.choices[column])).toEqual(rival);
    }),
    { numRuns: 500 },
  );
});

/** Every choice from every column, the first column slowest. */
function everyWay(sizes: readonly number[]): readonly (readonly number[])[] {
  return sizes.reduce<readonly (readonly number[])[]>(
    (ways, size) => ways.flatMap((way) => [...Array(size).keys()].map((choice) => [...way, choice])),
    [[]],
  );
}

function isListedBefore(one: readonly number[], other: readonly number[]): boolean {
  const at = one.findIndex((choice, index) => choice !== other[index]);
  return at >= 0 && (one[at] ?? 0) < (other[at] ?? 0);
}

test("no step between two grips costs less than what is known of the places of the hand, or comes from elsewhere", () => {
  let bound = 0;
  fc.assert(
    fc.property(
      tuneSketches({ lowest: 57, highest: 74, mostNotes: 4 }),
      fc.constantFrom("fluent" as const, "full" as const, "lean" as const),
      (sketch, texture) => {
        const problem = arrangingProblem(tuneOf(sketch), {
          ...PLAIN_WISHES,
          texture,
          instrument: { ...GUITAR, frets: 12 },
        });
        for (const link of problem.links) {
          const step = problem.stepCost(link);
          const known = problem.knownOf?.(link);
          if (known === undefined) throw new Error("nothing is known");
          for (let to = 0; to < (problem.sizes[link.to] ?? 0); to += 1) {
            const sources = known.sourcesOf(to);
            if (sources !== undefined) bound += 1;
            for (let from = 0; from < (problem.sizes[link.from] ?? 0); from += 1) {
              const cost = step(from, to);
              const least = known.least(known.from.of[from] ?? 0, known.to.of[to] ?? 0);
              if (cost < least) expect.fail(`${cost} from ${from} to ${to}, least ${least}`);
              if (cost < Number.POSITIVE_INFINITY) {
                const enough = (from * 37 + to * 11) % 400;
                const early = known.cost(from, to, enough);
                if (cost < enough ? early !== cost : early < enough)
                  expect.fail(`${early} from ${from} to ${to} where ${enough} is enough, ${cost} in all`);
              }
              if (
                sources === undefined ? cost < 0 : cost < Number.POSITIVE_INFINITY !== sources.includes(from)
              )
                expect.fail(`${cost} from ${from} to ${to}, which may come after ${sources}`);
            }
          }
        }
      },
    ),
    { numRuns: 60 },
  );
  expect(bound).toBeGreaterThan(200);
});

test("on small tunes with held chords, single notes and repeats, nothing cheaper exists than what is found", () => {
  let held = 0;
  let repeated = 0;
  fc.assert(
    fc.property(
      tuneSketches({ lowest: 57, highest: 74, mostNotes: 5 }),
      fc.constantFrom("fluent" as const, "full" as const, "lean" as const),
      fc.integer({ min: 0, max: 2 }),
      (sketch, texture, seed) => {
        const tune = tuneOf(sketch);
        const problem = arrangingProblem(tune, {
          ...PLAIN_WISHES,
          texture,
          rests: seed === 0 ? "struck" : "silent",
          instrument: { ...GUITAR, frets: 12 },
        });
        const small = thinned(problem, seed);
        if (problem.columns.some((column) => column.isHeld.includes(1))) held += 1;
        if (tune.jumps.length > 0) repeated += 1;
        expect(cheapestWay(small)?.cost ?? Number.POSITIVE_INFINITY).toBe(bruteForce(small));
      },
    ),
    { numRuns: 2000 },
  );
  expect(held).toBeGreaterThan(200);
  expect(repeated).toBeGreaterThan(200);
}, 300_000);

const onlyKept = (
  problem: PathProblem,
  isKept: (column: number, choice: number) => boolean,
): PathProblem => ({
  ...problem,
  choiceCost: (column, choice) =>
    isKept(column, choice) ? problem.choiceCost(column, choice) : Number.POSITIVE_INFINITY,
});

/** Some choices of each column. */
const someChoices = ({ sizes }: PathProblem, seed: number): KeptChoices =>
  sizes.map((size, column) =>
    [...Array(size).keys()].filter((choice) => (seed >> ((choice + 2 * column) % 6)) % 2 === 0),
  );

test("among some choices of each column the way is found that looking at each finds, whatever was asked before, and none where a column keeps nothing", () => {
  let none = 0;
  let apart = 0;
  fc.assert(
    fc.property(randomProblems, fc.array(fc.nat(62), { minLength: 1, maxLength: 3 }), (problem, seeds) => {
      const { leastCost, cheapest } = questionsAmong(problem);
      // A list of choices is the same object from question to question, as one that asks keeps it.
      const lists = problem.sizes.map((_, column) =>
        seeds.map((seed) => someChoices(problem, seed)[column] ?? []),
      );
      seeds.forEach((_, first) => {
        const kept = lists.map((choices, column) => choices[(first + column) % seeds.length] ?? []);
        if (kept.some((choices) => choices.length === 0)) none += 1;
        if (kept.slice(1, -1).some((choices) => choices.length === 1)) apart += 1;
        const least = plainCheapestWay(problem, kept)?.cost ?? Number.POSITIVE_INFINITY;
        expect(leastCost(kept, least)).toBe(Number.POSITIVE_INFINITY);
        expect(leastCost(kept, least + 1)).toBe(least);
        expect(leastCost(kept)).toBe(least);
        const way = cheapest(kept);
        expect(way?.cost ?? Number.POSITIVE_INFINITY).toBe(least);
        if (way !== undefined) expectFirstOfEqual(problem, way, kept, [...kept.keys()]);
      });
    }),
    { numRuns: 800 },
  );
  expect(none).toBeGreaterThan(20);
  expect(apart).toBeGreaterThan(200);
});

test("what a choice costs at least is a bound however the others are ruled out: beyond a known way it can be left out", () => {
  let leftOut = 0;
  fc.assert(
    fc.property(randomProblems, fc.nat(62), fc.integer({ min: 0, max: 30 }), (problem, seed, slack) => {
      const cheapest = cheapestWay(problem);
      if (cheapest === undefined) return;
      const through = exactCostThroughEach(problem, cheapest, slack);
      const allowed = someChoices(problem, seed);
      const among = (most: number) =>
        allowed.map((choices, column) =>
          choices.filter((choice) => (through[column]?.[choice] ?? 0) <= most),
        );
      const questions = questionsAmong(problem);
      const whole = questions.cheapest(allowed);
      const bound = questions.leastCost(among(cheapest.cost + slack));
      if (Number.isFinite(bound) && among(bound).flat().length < allowed.flat().length) leftOut += 1;
      expect(questions.cheapest(among(bound))).toEqual(whole);
    }),
    { numRuns: 1500 },
  );
  expect(leftOut).toBeGreaterThan(100);
});

/**
 * It costs what it says, and no choice listed before one of its own makes as cheap a way; what lies in repeats decided first
 * where nothing else is said.
 */
function expectFirstOfEqual(
  problem: PathProblem,
  { choices, cost }: Way,
  kept: KeptChoices = problem.sizes.map((size) => [...Array(size).keys()]),
  order: readonly number[] = looseEnds(problem).order,
): void {
  expect(costOfWay(problem, choices)).toBe(cost);
  const columns = [...kept];
  for (const column of order) {
    const choice = choices[column] ?? 0;
    columns[column] = kept[column]?.filter((other) => other < choice) ?? [];
    expect(plainCheapestWay(problem, columns)?.cost ?? Number.POSITIVE_INFINITY).toBeGreaterThan(cost);
    columns[column] = [choice];
  }
}

test("what is remembered of one question changes no answer to the next: other choices ruled out, or the same again", () => {
  fc.assert(
    fc.property(
      tuneSketches({ lowest: 57, highest: 74, mostNotes: 5 }),
      fc.array(fc.nat(1000), { minLength: 2, maxLength: 4 }),
      (sketch, seeds) => {
        const problem = arrangingProblem(tuneOf(sketch), {
          ...PLAIN_WISHES,
          texture: "fluent",
          instrument: { ...GUITAR, frets: 9 },
        });
        const questions = questionsAmong(problem);
        for (const seed of [...seeds, ...seeds]) {
          const isKept = (column: number, choice: number) => (choice * 31 + column * 7 + seed) % 5 !== 0;
          const asked = onlyKept(problem, isKept);
          const found = cheapestWay(asked);
          expect(found?.cost).toBe(plainCheapestWay(asked)?.cost);
          if (found !== undefined) expectFirstOfEqual(asked, found);
          const kept = problem.sizes.map((size, column) =>
            [...Array(size).keys()].filter((choice) => isKept(column, choice)),
          );
          expect(questions.leastCost(kept)).toBe(found?.cost ?? Number.POSITIVE_INFINITY);
          expect(questions.cheapest(kept)?.cost).toBe(found?.cost);
          if (found === undefined) continue;
          const exact = exactCostThroughEach(asked, found, 60);
          found.choices.forEach((choice, column) => {
            expect(exact[column]?.[choice]).toBe(found.cost);
          });
        }
      },
    ),
    { numRuns: 40 },
  );
});

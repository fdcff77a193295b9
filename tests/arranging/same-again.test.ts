import fc from "fast-check";
import { expect, test } from "vitest";
import type { ArrangedEvent, Arrangement } from "../../src/arrangement/arrangement.js";
import { arrangeTune } from "../../src/arranging/arrange-tune.js";
import { COSTS } from "../../src/arranging/costs/cost-table.js";
import { arrangingProblem } from "../../src/arranging/tune-problem.js";
import { cheapestWay } from "../../src/search/cheapest-path.js";
import { UNTRANSPOSED } from "../../src/song/transposition.js";
import type { Wish } from "../../src/wishes/wishes.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { type TuneSketch, tuneOf } from "../support/random-tune.js";

const NEVER = { ...COSTS, sameness: { eachMeasure: 0 } };

const bars = fc.array(fc.integer({ min: 60, max: 77 }), { minLength: 4, maxLength: 4 });

/** Four bars of quarters over one chord each: a bar, another, the first again, a last one. */
const strainTwice = fc
  .tuple(bars, bars, bars, fc.array(fc.integer({ min: 0, max: 11 }), { minLength: 3, maxLength: 3 }))
  .map(
    ([one, two, three, roots]): TuneSketch => ({
      notes: [...one, ...two, ...one, ...three].map((midi) => ({ midi, eighths: 2, rest: 0 })),
      chords: [roots[0], roots[1], roots[0], roots[2]].map((root = 0, bar) => ({
        at: bar * 8,
        root,
        kind: bar % 2 === 0 ? "dominant" : "minor-seventh",
      })),
      repeat: undefined,
    }),
  );

const asked = (wishes: readonly Wish[] = []) => ({
  ...PLAIN_WISHES,
  texture: "fluent" as const,
  instrument: GUITAR,
  wishes,
});

function arranged(sketch: TuneSketch, costs = COSTS, wishes: readonly Wish[] = []): Arrangement {
  const arrangement = arrangeTune(tuneOf(sketch), UNTRANSPOSED, asked(wishes), costs);
  if (arrangement === undefined) throw new Error("no way");
  return arrangement;
}

/** Strings, frets and fingers of everything that is struck or sounds on in a bar. */
function playedIn({ events, melody, supports }: Arrangement, bar: number): unknown {
  return events
    .filter(({ onset }) => Math.floor(onset / 8) === bar)
    .map((event: ArrangedEvent) => [
      event.attack,
      melody[event.melodyNote ?? -1],
      event.supports.map((index) => {
        const { string, fret, finger } = supports[index] ?? {};
        return [string, fret, finger];
      }),
    ]);
}

const isSame = (arrangement: Arrangement): boolean =>
  JSON.stringify(playedIn(arrangement, 0)) === JSON.stringify(playedIn(arrangement, 2));

test("a bar that comes again is played as before, at no more than its price, and where it is not that is said", () => {
  let same = 0;
  let sameByItself = 0;
  fc.assert(
    fc.property(strainTwice, (sketch) => {
      const arrangement = arranged(sketch);
      const cheapest = cheapestWay(arrangingProblem(tuneOf(sketch), asked()))?.cost ?? 0;
      expect(arrangement.cost).toBeGreaterThanOrEqual(cheapest);
      expect(arrangement.cost - cheapest).toBeLessThanOrEqual(COSTS.sameness.eachMeasure);
      expect(arrangement.playedOtherwise).toEqual(isSame(arrangement) ? [] : [2]);
      same += Number(isSame(arrangement));
      const byItself = arranged(sketch, NEVER);
      expect(byItself.cost).toBe(cheapest);
      sameByItself += Number(isSame(byItself));
    }),
    { numRuns: 40, seed: 7 },
  );
  // Random bars leap about; the joins of some allow nothing else.
  expect(same).toBeGreaterThan(28);
  expect(same - sameByItself).toBeGreaterThan(4);
});

/** Five bars of quarters: two of them come again, the second one later. */
const twoBarsTwice = fc
  .tuple(bars, bars, bars, fc.array(fc.integer({ min: 0, max: 11 }), { minLength: 3, maxLength: 3 }))
  .map(
    ([one, two, three, [first = 0, second = 0, third = 0]]): TuneSketch => ({
      notes: [...one, ...two, ...one, ...three, ...two].map((midi) => ({ midi, eighths: 2, rest: 0 })),
      chords: [first, second, first, third, second].map((root, bar) => ({
        at: bar * 8,
        root,
        kind: root === second ? "minor-seventh" : "dominant",
      })),
      repeat: undefined,
    }),
  );

test("no bar costs the whole more than its price so that it is played as before", () => {
  let dear = 0;
  fc.assert(
    fc.property(twoBarsTwice, (sketch) => {
      const arrangement = arranged(sketch);
      const cheapest = cheapestWay(arrangingProblem(tuneOf(sketch), asked()))?.cost ?? 0;
      dear += Number(arrangement.cost > cheapest);
      for (const at of [16, 32]) {
        // What is wished as it is takes the bar out of what is played alike, and nothing else.
        const attack = arrangement.events.find(({ onset }) => onset === at)?.attack;
        const as = attack === "single" ? "single" : "chord";
        const free = arranged(sketch, COSTS, [{ kind: "play", wording: "wish 1", at, as }]);
        // With it another bar may be freed that is alike only beside it; each has its price.
        const others = free.playedOtherwise.length - arrangement.playedOtherwise.length;
        const freed = 1 + Math.max(0, others);
        expect(arrangement.cost - free.cost).toBeLessThanOrEqual(freed * COSTS.sameness.eachMeasure);
      }
    }),
    { numRuns: 60, seed: 7 },
  );
  expect(dear).toBeGreaterThan(10);
});

test("a wish is for its own bar: what comes again elsewhere stays as it was", () => {
  fc.assert(
    fc.property(strainTwice, (sketch) => {
      const before = arranged(sketch, NEVER);
      const after = arranged(sketch, COSTS, [{ kind: "play", wording: "wish 1", at: 16, as: "single" }]);
      expect(after.events.find(({ onset }) => onset === 16)?.attack).toBe("single");
      expect(after.playedOtherwise).toEqual([]);
      if (before.events[0]?.attack === "struck") expect(after.events[0]?.attack).toBe("struck");
    }),
    { numRuns: 20, seed: 7 },
  );
});

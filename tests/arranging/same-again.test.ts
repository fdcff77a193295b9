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

const NEVER = { ...COSTS, sameness: { eachMeasure: 0, eachNote: 0 } };

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

/** Four bars of quarters, each over one chord, in which the first note comes again as the third. */
const returning = fc
  .array(
    fc.record({
      midis: fc.tuple(
        fc.integer({ min: 60, max: 77 }),
        fc.integer({ min: 60, max: 77 }),
        fc.integer({ min: 60, max: 77 }),
      ),
      root: fc.integer({ min: 0, max: 11 }),
      kind: fc.constantFrom("major", "minor-seventh", "dominant"),
    }),
    { minLength: 4, maxLength: 4 },
  )
  .map(
    (given): TuneSketch => ({
      notes: given.flatMap(({ midis: [one, two, three] }) =>
        [one, two, one, three].map((midi) => ({ midi, eighths: 2, rest: 0 })),
      ),
      chords: given.map(({ root, kind }, bar) => ({ at: bar * 8, root, kind })),
      repeat: undefined,
    }),
  );

test("a note struck again over its chord in one bar has the grip it had, at no more than its price", () => {
  const isStruck = ([attack]: readonly unknown[]) => attack === "struck";
  const alike = (sketch: TuneSketch, costs = COSTS) => {
    const arrangement = arrangeTune(tuneOf(sketch), UNTRANSPOSED, { ...asked(), texture: "full" }, costs);
    if (arrangement === undefined) throw new Error("no way");
    const bars = [0, 1, 2, 3].map((bar) => playedIn(arrangement, bar) as readonly (readonly unknown[])[]);
    const again = bars.filter((bar) => bar.filter(isStruck).length === 4);
    const same = again.filter(([one, , three]) => JSON.stringify(one) === JSON.stringify(three));
    return { again: again.length, same: same.length, cost: arrangement.cost };
  };
  const seen = { again: 0, same: 0, sameByItself: 0 };
  fc.assert(
    fc.property(returning, (sketch) => {
      const { again, same, cost } = alike(sketch);
      const byItself = alike(sketch, { ...COSTS, sameness: { ...COSTS.sameness, eachNote: 0 } });
      const most = byItself.cost + 4 * COSTS.sameness.eachNote;
      expect(cost).toBeGreaterThanOrEqual(byItself.cost);
      expect(cost).toBeLessThanOrEqual(most);
      seen.again += again;
      seen.same += same;
      seen.sameByItself += byItself.same;
    }),
    { numRuns: 40, seed: 7 },
  );
  expect(seen.same).toBeGreaterThan(seen.sameByItself);
  expect(seen.same).toBeGreaterThan(0.8 * seen.again);
});

/** Four bars of quarters: two, and two more with the same chords, in which of the melody one note comes again on another beat. */
const elsewhere = fc
  .record({
    melody: fc.array(fc.integer({ min: 60, max: 77 }), { minLength: 14, maxLength: 14 }),
    again: fc.tuple(fc.integer({ min: 60, max: 77 }), fc.integer({ min: 60, max: 77 })),
    roots: fc.tuple(fc.integer({ min: 0, max: 11 }), fc.integer({ min: 0, max: 11 })),
    kind: fc.constantFrom("major", "minor-seventh", "dominant"),
  })
  .map(({ melody, again: [one, two], roots, kind }): TuneSketch => {
    const midis = [one, ...melody.slice(0, 3), two, ...melody.slice(3, 6)];
    midis.push(
      melody[6] ?? 60,
      melody[7] ?? 60,
      one,
      melody[8] ?? 60,
      ...melody.slice(9, 11),
      two,
      melody[11] ?? 60,
    );
    return {
      notes: midis.map((midi) => ({ midi, eighths: 2, rest: 0 })),
      chords: [...roots, ...roots].map((root, bar) => ({ at: bar * 8, root, kind })),
      repeat: undefined,
    };
  });

test("a note struck again over its chord in another bar has the grip it had", () => {
  const seen = { again: 0, same: 0, sameByItself: 0 };
  const pairsIn = (sketch: TuneSketch, costs = COSTS) => {
    const arrangement = arrangeTune(tuneOf(sketch), UNTRANSPOSED, { ...asked(), texture: "full" }, costs);
    if (arrangement === undefined) throw new Error("no way");
    const bars = [0, 1, 2, 3].map((bar) => playedIn(arrangement, bar) as readonly (readonly unknown[])[]);
    const pairs = [0, 1].map((bar) => [bars[bar]?.[0], bars[bar + 2]?.[2]]);
    return pairs
      .filter((pair) => pair.every((moment) => moment?.[0] === "struck"))
      .map(([one, other]) => JSON.stringify(one) === JSON.stringify(other));
  };
  fc.assert(
    fc.property(elsewhere, (sketch) => {
      const pairs = pairsIn(sketch);
      seen.again += pairs.length;
      seen.same += pairs.filter(Boolean).length;
      const byItself = { ...COSTS, sameness: { ...COSTS.sameness, eachNote: 0 } };
      seen.sameByItself += pairsIn(sketch, byItself).filter(Boolean).length;
    }),
    { numRuns: 30, seed: 7 },
  );
  expect(seen.same).toBeGreaterThan(seen.sameByItself);
  expect(seen.same).toBeGreaterThan(0.7 * seen.again);
});

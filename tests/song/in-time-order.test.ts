import fc from "fast-check";
import { expect, test } from "vitest";
import { isSameSymbol } from "../../src/song/chord-symbol.js";
import { countBefore, countUntil, lastUntil } from "../../src/song/in-time-order.js";
import { measureIndexAt } from "../../src/song/measure-place.js";
import { neverPlayedOn } from "../../src/song/never-played-on.js";
import { secondsBetween } from "../../src/song/playing-time.js";
import type { Jump, TempoMark } from "../../src/song/tune.js";

const tick = fc.integer({ min: 0, max: 40 });
const ticks = fc.array(tick, { maxLength: 12 }).map((all) => all.toSorted((one, other) => one - other));
const itself = (at: number) => at;

test("what is found by halving is what a reader finds who starts at the first bar", () =>
  fc.assert(
    fc.property(ticks, tick, (row, at) => {
      expect(countUntil(row, at, itself)).toBe(row.filter((other) => other <= at).length);
      expect(countBefore(row, at, itself)).toBe(row.filter((other) => other < at).length);
      expect(lastUntil(row, at, itself)).toBe(row.findLast((other) => other <= at));
    }),
  ));

test("of two bars that begin at one time, an empty one and a full one, a tick is in the later", () => {
  const measures = [0, 8, 8, 16].map((start, index) => ({ index, label: "", start, meter: undefined }));
  expect(measureIndexAt({ measures, ticksPerQuarter: 2 }, 8)).toBe(2);
  expect(measureIndexAt({ measures, ticksPerQuarter: 2 }, 15)).toBe(2);
});

test("time between two notes is counted tempo by tempo", () => {
  const marks = ticks.map((all) => all.map((at): TempoMark => ({ at, quartersPerMinute: 40 + 3 * at })));
  fc.assert(
    fc.property(marks, tick, tick, (tempos, one, other) => {
      const [from, to] = [Math.min(one, other), Math.max(one, other)];
      let seconds = 0;
      for (let at = from; at < to; at += 1) {
        const inForce = tempos.findLast((mark) => mark.at <= at) ?? tempos[0];
        seconds += 60 / 4 / (inForce?.quartersPerMinute ?? 100);
      }
      expect(secondsBetween({ ticksPerQuarter: 4, tempos }, from, to, undefined)).toBeCloseTo(seconds, 9);
    }),
  );
});

test("a first ending is never played on into the second, wherever in them one looks", () => {
  const jump = fc.record({ from: tick, to: tick });
  fc.assert(
    fc.property(fc.array(jump, { maxLength: 8 }), tick, tick, (jumps: readonly Jump[], from, to) => {
      const goesBackBetween = jumps.some(
        (back) =>
          back.from > from &&
          back.from <= to &&
          back.to < back.from &&
          jumps.some((on) => on.to === back.from && on.from < on.to),
      );
      expect(neverPlayedOn({ jumps }, from, to)).toBe(goesBackBetween);
    }),
  );
});

test("a chord symbol written again is the same; another bass, degree or spelling makes it another", () => {
  const symbol = {
    root: { letter: "C", alter: 1 },
    kind: "dominant",
    degrees: [{ type: "add", value: 9, alter: -1 }],
    bass: undefined,
  } as const;
  expect(isSameSymbol(symbol, structuredClone(symbol))).toBe(true);
  expect(isSameSymbol(symbol, { ...symbol, root: { letter: "D", alter: -1 } })).toBe(false);
  expect(isSameSymbol(symbol, { ...symbol, bass: { letter: "E", alter: 0 } })).toBe(false);
  expect(isSameSymbol(symbol, { ...symbol, degrees: [] })).toBe(false);
  expect(isSameSymbol(symbol, undefined)).toBe(false);
});

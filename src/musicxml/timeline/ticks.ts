import Fraction from "fraction.js";
import { ScoreError } from "../../diagnostics.js";
import type { Quarters } from "./exact-time.js";

/** Finer than any file divides a quarter, coarse enough that sums of ticks stay exact. */
const FINEST = 1_000_000_000n;

/** Turns an exact time into ticks; `nearest` is for what only has to stand about there. */
export interface Ticks {
  (time: Quarters): number;
  readonly perQuarter: number;
  nearest(time: Quarters): number;
}

/**
 * The smallest tick that divides every `exact` time, and of the `wished` ones those that do not make it
 * too fine.
 *
 * @throws ScoreError "time-too-fine" where no such tick exists
 */
export function ticksFor(exact: readonly Quarters[], wished: readonly Quarters[]): Ticks {
  let perQuarter = 1n;
  for (const time of exact) {
    if (perQuarter % time.d !== 0n) perQuarter = leastCommonMultiple(perQuarter, time.d);
  }
  if (perQuarter > FINEST) throw tooFine(perQuarter);
  for (const time of wished) {
    if (perQuarter % time.d === 0n) continue;
    const finer = leastCommonMultiple(perQuarter, time.d);
    if (finer <= FINEST) perQuarter = finer;
  }
  const scale = new Fraction(perQuarter);
  const ticks = (time: Quarters): number => {
    const { s: sign, n: numerator, d: denominator } = time;
    if (perQuarter % denominator !== 0n)
      throw new RangeError(`${time.toFraction()} quarters are no whole number of ticks`);
    return Number(sign * numerator * (perQuarter / denominator));
  };
  const nearest = (time: Quarters): number => time.mul(scale).round().valueOf();
  return Object.assign(ticks, { perQuarter: Number(perQuarter), nearest });
}

function leastCommonMultiple(a: bigint, b: bigint): bigint {
  let [larger, smaller] = [a, b];
  while (smaller !== 0n) [larger, smaller] = [smaller, larger % smaller];
  return (a / larger) * b;
}

const tooFine = (perQuarter: bigint) =>
  new ScoreError({
    rule: "time-too-fine",
    place: {},
    found: `times that need ${perQuarter} ticks a quarter note`,
    expected: `at most ${FINEST}`,
    message: "The durations divide the quarter note so finely that they have no common measure.",
    hint: "Round the durations to those of the written notes.",
  });

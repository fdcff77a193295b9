import { countUntil } from "./in-time-order.js";
import type { Tune } from "./tune.js";

/**
 * Whether written neighbours are never played one after the other: a jump back leaves between them and a
 * jump forward arrives there, as where a first ending stands before a second. Times in ticks.
 */
export function neverPlayedOn({ jumps }: Pick<Tune, "jumps">, from: number, to: number): boolean {
  let ends = endsOf.get(jumps);
  if (ends === undefined) {
    ends = endsLeftForGood(jumps);
    endsOf.set(jumps, ends);
  }
  const next = ends[countUntil(ends, from, (end) => end)];
  return next !== undefined && next <= to;
}

/** Where playing goes back and never on, in time order. */
function endsLeftForGood(jumps: Tune["jumps"]): readonly number[] {
  const reached = new Set(jumps.filter((jump) => jump.from < jump.to).map((jump) => jump.to));
  return jumps
    .filter((jump) => jump.to < jump.from && reached.has(jump.from))
    .map((jump) => jump.from)
    .sort((one, other) => one - other);
}

/** Worked out once a tune, since it is asked between all its notes. */
const endsOf = new WeakMap<Tune["jumps"], readonly number[]>();

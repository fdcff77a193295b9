/**
 * How many things of a row in time order come no later than a time, found by halving: what a tick lies in
 * is asked for every note, and a tune may have a hundred thousand of them.
 */
export function countUntil<Thing>(
  things: readonly Thing[],
  time: number,
  timeOf: (thing: Thing) => number,
): number {
  return firstWhere(things, (thing) => timeOf(thing) > time);
}

/** How many things of a row in time order come before a time. */
export function countBefore<Thing>(
  things: readonly Thing[],
  time: number,
  timeOf: (thing: Thing) => number,
): number {
  return firstWhere(things, (thing) => timeOf(thing) >= time);
}

/** The last thing of a row in time order that comes no later than a time. */
export const lastUntil = <Thing>(
  things: readonly Thing[],
  time: number,
  timeOf: (thing: Thing) => number,
): Thing | undefined => things[countUntil(things, time, timeOf) - 1];

/** Index of the first thing that something is true of, where it is true of all that follow too. */
export function firstWhere<Thing>(things: readonly Thing[], isTrue: (thing: Thing) => boolean): number {
  let [from, to] = [0, things.length];
  while (from < to) {
    const middle = (from + to) >>> 1;
    if (isTrue(things[middle] as Thing)) to = middle;
    else from = middle + 1;
  }
  return from;
}

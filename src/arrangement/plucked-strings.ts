import { isAtHome, type PluckingFinger, pluckingFingers } from "../guitar/plucking-fingers.js";
import type { Tune } from "../song/tune.js";
import type { Arrangement } from "./arrangement.js";
import { struckSupports } from "./played-notes.js";

/** A string that is struck, and the right-hand finger for it. */
export interface Plucked {
  readonly string: number;
  readonly finger: PluckingFinger;
}

/** The strings that are struck at each time, the lowest-pitched first; grace notes apart. Times in ticks. */
export function struckStrings(tune: Tune, arrangement: Arrangement): ReadonlyMap<number, readonly number[]> {
  const struck = new Map<number, number[]>();
  const add = (onset: number, string: number) => struck.set(onset, [...(struck.get(onset) ?? []), string]);
  for (const { onset, string } of struckSupports(arrangement)) add(onset, string);
  tune.melody.forEach(({ onset }, index) => {
    const place = arrangement.melody[index];
    if (place !== undefined) add(onset, place.string);
  });
  for (const strings of struck.values()) strings.sort((one, other) => other - one);
  return struck;
}

/**
 * The right-hand fingers that a player needs to be told, by time: of strings struck together that do not each have the
 * finger at home there, unless the same strings were struck together before them.
 */
export function pluckingToldAt(
  tune: Tune,
  arrangement: Arrangement,
): ReadonlyMap<number, readonly Plucked[]> {
  const told = new Map<number, readonly Plucked[]>();
  let before = "";
  const inTime = [...struckStrings(tune, arrangement)].sort(([one], [other]) => one - other);
  for (const [onset, strings] of inTime) {
    if (strings.length < 2) continue;
    const plucked = pluckedBy(strings);
    const fingers = plucked.map(({ finger }) => finger);
    if (!isAtHome(strings, fingers) && strings.join() !== before) told.set(onset, plucked);
    before = strings.join();
  }
  return told;
}

export function pluckedBy(strings: readonly number[]): readonly Plucked[] {
  const fingers = pluckingFingers(strings);
  return strings.flatMap((string, index) => {
    const finger = fingers[index];
    return finger === undefined ? [] : [{ string, finger }];
  });
}

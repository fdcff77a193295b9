/** A finger of the right hand: thumb, index, middle and ring finger, by their Spanish initials. */
export type PluckingFinger = "p" | "i" | "m" | "a";

const OVER_THE_THUMB: readonly PluckingFinger[] = ["i", "m", "a"];

/** The thumb plays the strings from this one down. */
const HIGHEST_THUMB_STRING = 4;

/** Where a finger is at home: the index finger on string 3, the middle finger on 2, the ring finger on 1. */
const homeOf = (string: number): PluckingFinger =>
  string >= HIGHEST_THUMB_STRING ? "p" : (OVER_THE_THUMB[3 - string] ?? "a");

/**
 * The right-hand finger for each of the strings that are struck together, the lowest-pitched first: the thumb on the
 * lowest where that is one of its strings or the fingers do not suffice, the others in their order, as near to their
 * own strings as may be. What is more than the fingers can take the thumb brushes. Common practice of plucked playing.
 */
export function pluckingFingers(strings: readonly number[]): readonly PluckingFinger[] {
  const [lowest = 0] = strings;
  const others = Math.min(
    OVER_THE_THUMB.length,
    lowest >= HIGHEST_THUMB_STRING ? strings.length - 1 : strings.length,
  );
  const thumbs = strings.slice(0, strings.length - others).map((): PluckingFinger => "p");
  return [...thumbs, ...fingersOn(strings.slice(strings.length - others))];
}

/** Whether every string has the finger that is at home there, so that nobody needs to be told. */
export const isAtHome = (strings: readonly number[], fingers: readonly PluckingFinger[]): boolean =>
  strings.every((string, index) => fingers[index] === homeOf(string));

/** Index, middle and ring finger in their order, or some of them, nearest to home; of equal ones the index first. */
function fingersOn(strings: readonly number[]): readonly PluckingFinger[] {
  let best: readonly number[] = [];
  let least = Number.POSITIVE_INFINITY;
  const add = (chosen: readonly number[]): void => {
    if (chosen.length === strings.length) {
      const away = chosen.reduce((sum, finger, at) => sum + Math.abs(3 - finger - (strings[at] ?? 0)), 0);
      if (away < least) [best, least] = [chosen, away];
      return;
    }
    for (let finger = (chosen.at(-1) ?? -1) + 1; finger < OVER_THE_THUMB.length; finger += 1)
      add([...chosen, finger]);
  };
  add([]);
  return best.flatMap((finger) => OVER_THE_THUMB[finger] ?? []);
}

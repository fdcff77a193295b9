import Fraction from "fraction.js";
import { childNamed, childrenNamed, childText, type XmlElement } from "../../xml/xml-tree.js";
import { MOST_DOTS_READ } from "../numbers/number-limits.js";
import { numberIn } from "../numbers/read-number.js";
import { type Quarters, unrounded } from "./exact-time.js";
import { NOTE_TYPES } from "./note-types.js";

/** Quarter notes in each type of note. */
const QUARTERS_IN: ReadonlyMap<string, Quarters> = new Map(
  NOTE_TYPES.map((type, index) => [type, new Fraction(2).pow(NOTE_TYPES.indexOf("quarter") - index)]),
);

/** A sixty-fourth note: durations that miss by less were rounded, not meant. */
export const ROUNDING = new Fraction(1, 16);

/** What a note's type, dots and time modification say it lasts; undefined where it has no known type, or dots past counting. */
export function lengthByType(note: XmlElement): Quarters | undefined {
  const plain = QUARTERS_IN.get(childText(note, "type") ?? "");
  if (plain === undefined) return undefined;
  const dots = childrenNamed(note, "dot").length;
  if (dots > MOST_DOTS_READ) return undefined;
  // Each dot adds half of what the one before it added.
  const dotted = plain.mul(new Fraction(2).sub(new Fraction(1, 2 ** dots)));
  const modification = childNamed(note, "time-modification");
  const actual = modification && numberIn(modification, "actual-notes");
  const normal = modification && numberIn(modification, "normal-notes");
  return actual !== undefined && normal !== undefined ? dotted.mul(normal).div(actual) : dotted;
}

/**
 * What a note lasts: its duration, unless that is the rounding of what its tuplet makes of its type
 * (seven sixteenths in 480 divisions, a third written 0.333).
 */
export function lengthOf(note: XmlElement, duration: Quarters, divisions: Quarters): Quarters {
  const byDuration = duration.div(divisions);
  const byType = lengthByType(note);
  if (byType !== undefined && !byType.equals(byDuration)) {
    const miss = byType.sub(byDuration).abs();
    const isTuplet = childNamed(note, "time-modification") !== undefined;
    const isRounded = isDecimal(duration, divisions);
    const slack = isRounded ? ROUNDING : new Fraction(1).div(divisions);
    if ((isTuplet || isRounded) && miss.lt(slack) && miss.lt(ROUNDING)) return byType;
  }
  return quartersOf(duration, divisions);
}

/** A duration in quarters: exact where it is a whole number of whole divisions, else what its decimals were rounded from. */
export function quartersOf(duration: Quarters, divisions: Quarters): Quarters {
  const quarters = duration.div(divisions);
  return isDecimal(duration, divisions) ? unrounded(quarters) : quarters;
}

const isDecimal = (duration: Quarters, divisions: Quarters): boolean =>
  duration.d !== 1n || divisions.d !== 1n;

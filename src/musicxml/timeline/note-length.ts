import Fraction from "fraction.js";
import { childNamed, childrenNamed, childText, type XmlElement } from "../../xml/xml-tree.js";
import { MOST_DOTS_READ } from "../numbers/number-limits.js";
import { numberIn } from "../numbers/read-number.js";
import { type Quarters, unrounded } from "./exact-time.js";

/** Quarter notes in each note-type-value of MusicXML 4.0. */
const QUARTERS_IN: Readonly<Record<string, Quarters>> = {
  maxima: new Fraction(32),
  long: new Fraction(16),
  breve: new Fraction(8),
  whole: new Fraction(4),
  half: new Fraction(2),
  quarter: new Fraction(1),
  eighth: new Fraction(1, 2),
  "16th": new Fraction(1, 4),
  "32nd": new Fraction(1, 8),
  "64th": new Fraction(1, 16),
  "128th": new Fraction(1, 32),
  "256th": new Fraction(1, 64),
  "512th": new Fraction(1, 128),
  "1024th": new Fraction(1, 256),
};

/** A sixty-fourth note: durations that miss by less were rounded, not meant. */
export const ROUNDING = new Fraction(1, 16);

/** What a note's type, dots and time modification say it lasts; undefined where it has no known type, or dots past counting. */
export function lengthByType(note: XmlElement): Quarters | undefined {
  const plain = QUARTERS_IN[childText(note, "type") ?? ""];
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
  const isDecimal = duration.d !== 1n || divisions.d !== 1n;
  if (byType !== undefined && !byType.equals(byDuration)) {
    const miss = byType.sub(byDuration).abs();
    const isTuplet = childNamed(note, "time-modification") !== undefined;
    const slack = isDecimal ? ROUNDING : new Fraction(1).div(divisions);
    if ((isTuplet || isDecimal) && miss.lt(slack) && miss.lt(ROUNDING)) return byType;
  }
  return isDecimal ? unrounded(byDuration) : byDuration;
}

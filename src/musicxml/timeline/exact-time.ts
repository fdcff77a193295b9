import Fraction from "fraction.js";

/** A time or length in quarter notes, exact. Files divide a quarter by anything from 1 to 852720. */
export type Quarters = Fraction;

export const ZERO: Quarters = new Fraction(0);

/** How far a decimal such as 0.333 may stand from the fraction it was rounded from. */
const DECIMAL_SLACK = 0.0005;

/** A decimal length taken for the simplest fraction near it: 0.333 for a third. Whole numbers stay. */
export const unrounded = (value: Quarters): Quarters =>
  value.d === 1n ? value : value.simplify(DECIMAL_SLACK);

export const later = (a: Quarters, b: Quarters): Quarters => (a.gte(b) ? a : b);

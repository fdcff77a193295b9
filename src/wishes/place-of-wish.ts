import type { Place } from "../diagnostics.js";

/**
 * Measure and beat that a wish is for, or from which on, as they are written; what is no measure or beat is
 * left out, so that a wish that cannot be read has a place too.
 */
export function placeOfWish(wish: object): Place {
  const { measure, beat, measures } = wish as Readonly<Record<string, unknown>>;
  const [first] = Array.isArray(measures) ? measures : [measure];
  const from = Array.isArray(measures) ? 1 : beat;
  if (!isPosition(first) || !Number.isInteger(first)) return {};
  return { measure: first, ...(isPosition(from) ? { beat: from } : {}) };
}

const isPosition = (value: unknown): value is number => typeof value === "number" && value >= 1;

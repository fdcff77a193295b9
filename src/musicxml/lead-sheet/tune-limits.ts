import { ScoreError } from "../../diagnostics.js";
import type { WalkedPart } from "../timeline/walked-part.js";

/** How long a tune may be: longer than any evening, shorter than what fills a memory. */
const TUNE_LIMITS = { notes: 10_000, "chord symbols": 10_000, measures: 10_000, quarters: 100_000 } as const;

/** @throws ScoreError "tune-too-long" */
export function refuseTooLong(part: WalkedPart, notes: number, chordSymbols: number): void {
  const lengths = {
    notes,
    "chord symbols": chordSymbols,
    measures: part.measures.length,
    quarters: Math.ceil(part.end.valueOf()),
  };
  for (const what of Object.keys(TUNE_LIMITS) as (keyof typeof TUNE_LIMITS)[])
    if (lengths[what] > TUNE_LIMITS[what]) throw tooLong(part, lengths[what], what);
}

const tooLong = ({ id }: WalkedPart, count: number, what: keyof typeof TUNE_LIMITS) =>
  new ScoreError({
    rule: "tune-too-long",
    place: { part: id },
    found: `a tune of ${count} ${what}`,
    expected: `at most ${TUNE_LIMITS[what]}`,
    message: `The tune has ${count} ${what}; ${TUNE_LIMITS[what]} is the most that is arranged at once.`,
    hint: "Divide it into several scores.",
  });

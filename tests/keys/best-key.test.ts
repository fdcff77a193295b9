import fc from "fast-check";
import { expect, test } from "vitest";
import type { Arrangement } from "../../src/arrangement/arrangement.js";
import type { TuneWishes } from "../../src/arranging/arrange-settings.js";
import { arrangeTune } from "../../src/arranging/arrange-tune.js";
import { ScoreError } from "../../src/diagnostics.js";
import { bestKey } from "../../src/keys/best-key.js";
import { surveyedPlaces } from "../../src/keys/key-survey.js";
import { transposedTune } from "../../src/song/transposition.js";
import type { Tune } from "../../src/song/tune.js";
import type { GripWish } from "../../src/wishes/wishes.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { tuneOf, tuneSketches } from "../support/random-tune.js";

test("the best key is the first of a survey of all of them, of equal ones the nearest, in whatever order they are worked out", () => {
  const seen = { moved: 0, equal: 0, refused: 0 };
  fc.assert(
    fc.property(
      tuneSketches({ lowest: 55, highest: 70, mostNotes: 40 }),
      fc.record({
        texture: fc.constantFrom("fluent", "full", "lean"),
        bass: fc.constantFrom("none", "none", "roots"),
        alternatives: fc.constantFrom(0, 3),
        frets: fc.constantFrom(7, 12),
        // On a neck like this a tune costs nearly the same wherever it lies.
        isSameEverywhere: fc.boolean(),
        lastFret: fc.option(fc.nat(12), { freq: 3, nil: undefined }),
      }),
      (sketch, { isSameEverywhere, lastFret, frets, ...asked }) => {
        const tune = tuneOf(sketch);
        const neck = isSameEverywhere ? { fretSpacing: "equal" as const, hasOpenStrings: false } : {};
        const wishes: TuneWishes = {
          ...PLAIN_WISHES,
          ...asked,
          wishes: lastFret === undefined ? [] : [lastNoteAt(tune, lastFret)],
          instrument: { ...GUITAR, frets, ...neck },
        };
        const found = outcome(() => bestKey(tune, wishes));
        expect(found).toEqual(outcome(() => firstOfAll(tune, wishes, seen)));
        expect(outcome(() => bestKey(tune, wishes, (places) => places.toReversed()))).toEqual(found);
        if (found instanceof ScoreError) seen.refused += 1;
        else if (found !== undefined && found.transposition.semitones !== 0) seen.moved += 1;
      },
    ),
    { numRuns: 60 },
  );
  expect(Math.min(seen.moved, seen.equal, seen.refused), JSON.stringify(seen)).toBeGreaterThan(2);
}, 120_000);

/** A wish that few keys can grant, or none. */
const lastNoteAt = ({ melody }: Tune, fret: number): GripWish => ({
  kind: "grip",
  wording: "wish 1",
  at: melody.at(-1)?.onset ?? 0,
  strings: [{ string: 2, fret }],
});

function firstOfAll(tune: Tune, wishes: TuneWishes, seen: { equal: number }): Arrangement | undefined {
  const [first, second] = surveyedPlaces(tune, wishes);
  if (first === undefined) return undefined;
  if (first.arrangement.cost === second?.arrangement.cost) seen.equal += 1;
  const { transposition } = first;
  return arrangeTune(transposedTune(tune, transposition), transposition, wishes);
}

function outcome<Found>(found: () => Found): Found | ScoreError {
  try {
    return found();
  } catch (error) {
    if (error instanceof ScoreError) return error;
    throw error;
  }
}

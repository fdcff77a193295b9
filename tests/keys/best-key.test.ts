import fc from "fast-check";
import { expect, test } from "vitest";
import type { Arrangement } from "../../src/arrangement/arrangement.js";
import type { TuneWishes } from "../../src/arranging/arrange-settings.js";
import { arrangeTune, chosenWay } from "../../src/arranging/arrange-tune.js";
import { arrangingProblem } from "../../src/arranging/tune-problem.js";
import { ScoreError } from "../../src/diagnostics.js";
import { bestKey } from "../../src/keys/best-key.js";
import { fittingTranspositions } from "../../src/keys/choose-key.js";
import { surveyedPlaces } from "../../src/keys/key-survey.js";
import { transposedTune } from "../../src/song/transposition.js";
import type { Tune } from "../../src/song/tune.js";
import type { GripWish } from "../../src/wishes/wishes.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { type TuneSketch, tuneOf, tuneSketches } from "../support/random-tune.js";

test("the best key is the first of a survey of all of them, of equal ones the nearest, also where measures come again", () => {
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
        isTwice: fc.boolean(),
        lastFret: fc.option(fc.nat(12), { freq: 3, nil: undefined }),
      }),
      (sketch, { isSameEverywhere, isTwice, lastFret, frets, ...asked }) => {
        const tune = tuneOf(isTwice ? barsTwice(sketch) : sketch);
        const neck = isSameEverywhere ? { fretSpacing: "equal" as const, hasOpenStrings: false } : {};
        const wishes: TuneWishes = {
          ...PLAIN_WISHES,
          ...asked,
          wishes: lastFret === undefined ? [] : [lastNoteAt(tune, lastFret)],
          instrument: { ...GUITAR, frets, ...neck },
        };
        const found = outcome(() => bestKey(tune, wishes));
        expect(found).toEqual(outcome(() => firstOfAll(tune, wishes, seen)));
        if (found instanceof ScoreError) seen.refused += 1;
        else if (found !== undefined && found.transposition.semitones !== 0) seen.moved += 1;
      },
    ),
    { numRuns: 60, seed: 3 },
  );
  expect(Math.min(seen.moved, seen.equal, seen.refused), JSON.stringify(seen)).toBeGreaterThan(2);
}, 120_000);

test("what it costs to play returning measures alike counts too: a key that is the cheapest without it is not the best", () => {
  const bar = [64, 62, 65, 67].map((midi) => ({ midi, eighths: 2, rest: 0 }));
  const sixth = { root: 0, kind: "major-sixth" };
  const chords = [0, 8].map((at) => ({ ...sixth, at }));
  const tune = tuneOf({ notes: [...bar, ...bar], chords, repeat: undefined });
  const wishes: TuneWishes = { ...PLAIN_WISHES, instrument: GUITAR, texture: "full" };
  const ways = fittingTranspositions(tune, wishes).map((transposition) => {
    const moved = transposedTune(tune, transposition);
    return { transposition, ...chosenWay(arrangingProblem(moved, wishes), moved, wishes) };
  });
  const costs = ways.map(({ cheapest }) => cheapest?.cost ?? Number.POSITIVE_INFINITY);
  const cheapest = ways[costs.indexOf(Math.min(...costs))];
  const best = bestKey(tune, wishes);
  expect(best?.transposition).not.toEqual(cheapest?.transposition);
  expect(best).toEqual(firstOfAll(tune, wishes, { equal: 0 }));
});

/** Whole bars of quarters, then the same bars once more. */
function barsTwice({ notes, chords, repeat }: TuneSketch): TuneSketch {
  const quarters = notes.slice(0, 16).map(({ midi }) => ({ midi, eighths: 2, rest: 0 }));
  const bars = quarters.slice(0, Math.max(4, quarters.length - (quarters.length % 4)));
  const eighths = bars.length * 2;
  const under = chords.map((chord) => ({ ...chord, at: chord.at % eighths }));
  return {
    notes: [...bars, ...bars],
    chords: [...under, ...under.map((chord) => ({ ...chord, at: chord.at + eighths }))],
    repeat,
  };
}

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

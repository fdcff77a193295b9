import fc from "fast-check";
import { expect, test } from "vitest";
import type { Arrangement } from "../../src/arrangement/arrangement.js";
import type { TuneWishes } from "../../src/arranging/arrange-settings.js";
import { arrangeTune } from "../../src/arranging/arrange-tune.js";
import { ScoreError } from "../../src/diagnostics.js";
import { UNTRANSPOSED } from "../../src/song/transposition.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { type TuneSketch, tuneOf, tuneSketches } from "../support/random-tune.js";

function arranged(sketch: TuneSketch, wishes: Partial<TuneWishes>): Arrangement {
  const all: TuneWishes = { ...PLAIN_WISHES, texture: "fluent", instrument: GUITAR, ...wishes };
  const arrangement = arrangeTune(tuneOf(sketch), UNTRANSPOSED, all);
  if (arrangement === undefined) throw new Error("no way");
  return arrangement;
}

/** Eighths of one pitch each over one chord from the eighth `from` on. */
const eighths = (midis: readonly number[], root: number, from = 0): TuneSketch => ({
  notes: midis.map((midi) => ({ midi, eighths: 1, rest: 0 })),
  chords: [{ at: from, root, kind: "major" }],
  repeat: undefined,
});

/** The same in quarters, which stand on the beat. */
const quarters = (midis: readonly number[], root: number): TuneSketch => ({
  ...eighths(midis, root),
  notes: midis.map((midi) => ({ midi, eighths: 2, rest: 0 })),
});

const asSingle = [{ kind: "play", wording: "wish 1", at: 1, as: "single" }] as const;

test.each<[string, TuneSketch, Partial<TuneWishes>]>([
  ["no-chord", eighths([72, 72, 72], 0, 2), {}],
  ["wished", eighths([72, 72], 0), { wishes: asSingle }],
  // G over Db, a hand's length below the F before it: nothing can ring on.
  ["quick-note", eighths([77, 56, 77], 1), { texture: "full", tempo: 320 }],
  ["passing-note", eighths([77, 55, 77], 1), { texture: "full", tempo: 320 }],
  ["weak-beat", eighths([77, 56, 77], 1), { texture: "lean", tempo: 320 }],
  ["quick-note", eighths([77, 56, 77, 77], 1), { tempo: 320 }],
  ["no-time", quarters([77, 58, 77, 77], 3), { tempo: 280 }],
  ["dearer", quarters([77, 58, 77, 77], 3), { tempo: 280, shift: 5000 }],
  // Nothing sounds lower than the lowest string.
  ["no-grip", eighths([41, 41], 1), { texture: "full", melodyStrings: [6] }],
])("a note alone for %s says so", (why, sketch, wishes) => {
  const events = arranged(sketch, wishes).events.slice(0, 2);
  expect(events.map(({ attack, whySingle }) => [attack, whySingle])).toContainEqual(["single", why]);
});

test("the reason holds when a chord is asked for in its place", () => {
  const seen = new Map<string, number>();
  fc.assert(
    fc.property(
      tuneSketches({ lowest: 50, highest: 79, mostNotes: 6 }),
      fc.constantFrom("full" as const, "fluent" as const, "lean" as const),
      fc.constantFrom(80, 200, 360),
      fc.constantFrom(250, 5000),
      (sketch, texture, tempo, shift) => {
        const asked = { texture, tempo, shift, melodyStrings: [1, 2, 3, 4] };
        const plain = arranged(sketch, asked);
        for (const { attack, whySingle, onset } of plain.events) {
          expect(whySingle !== undefined).toBe(attack === "single");
          if (whySingle === undefined) continue;
          seen.set(whySingle, (seen.get(whySingle) ?? 0) + 1);
          const withChord = () =>
            arranged(sketch, {
              ...asked,
              wishes: [{ kind: "play", wording: "wish", at: onset, as: "chord" }],
            });
          if (whySingle === "no-chord" || whySingle === "no-grip") expect(withChord).toThrow(ScoreError);
          else if (whySingle === "dearer") expect(withChord().cost).toBeGreaterThanOrEqual(plain.cost);
        }
      },
    ),
    { numRuns: 60, examples: [[quarters([77, 58, 77, 77], 3), "fluent", 280, 5000]] },
  );
  expect([...seen.keys()].toSorted()).toEqual(expect.arrayContaining(["dearer", "no-chord"]));
});

import { expect, test } from "vitest";
import { arrangeTune } from "../../src/arranging/arrange-tune.js";
import { UNTRANSPOSED } from "../../src/song/transposition.js";
import type { Tune } from "../../src/song/tune.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { tuneOf } from "../support/random-tune.js";

test("a note tied into a second ending keeps its string, fret and finger over the chord change there", () => {
  // D augmented under F sharp, tied on into D seven where a second ending begins, in every key.
  for (const moved of [0, 1, 2, 3, 4, 5]) {
    const tune: Tune = {
      ...tuneOf({
        notes: [
          { midi: 64 + moved, eighths: 4, rest: 0 },
          { midi: 66 + moved, eighths: 8, rest: 0 },
        ],
        chords: [
          { at: 0, root: (2 + moved) % 12, kind: "augmented" },
          { at: 8, root: (2 + moved) % 12, kind: "dominant" },
        ],
        repeat: undefined,
      }),
      jumps: [
        { from: 8, to: 0 },
        { from: 4, to: 8 },
      ],
    };
    const arrangement = arrangeTune(tune, UNTRANSPOSED, {
      ...PLAIN_WISHES,
      texture: "full",
      instrument: GUITAR,
    });
    const { events, melody, supports } = arrangement ?? { events: [], melody: [], supports: [] };
    expect(events).toHaveLength(3);
    for (const event of events) {
      const fretOf = new Map<number, number>();
      for (const place of [
        melody[event.melodyNote ?? -1],
        ...event.supports.map((index) => supports[index]),
      ]) {
        if (place === undefined || place.finger === 0) continue;
        expect(fretOf.get(place.finger) ?? place.fret).toBe(place.fret);
        fretOf.set(place.finger, place.fret);
      }
    }
  }
});

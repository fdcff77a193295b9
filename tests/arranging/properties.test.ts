import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Arrangement } from "../../src/arrangement/arrangement.js";
import type { TuneWishes } from "../../src/arranging/arrange-settings.js";
import { arrangeTune } from "../../src/arranging/arrange-tune.js";
import { COSTS, type CostTable } from "../../src/arranging/costs/cost-table.js";
import { type Instrument, midiAt, STANDARD_TUNING } from "../../src/guitar/instrument.js";
import { chordOf } from "../../src/harmony/chord-tones.js";
import type { TextureName } from "../../src/options/options.js";
import { midiOf } from "../../src/song/pitch.js";
import { transposedTune, UNTRANSPOSED } from "../../src/song/transposition.js";
import type { Tune } from "../../src/song/tune.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { tuneOf, tuneSketches } from "../support/random-tune.js";

/** Four strings, every fret as wide as the first, no open string: nothing tells one place from another. */
const TEST_NECK: Instrument = {
  ...GUITAR,
  openStrings: STANDARD_TUNING.slice(0, 4),
  frets: 24,
  fretSpacing: "equal",
  hasOpenStrings: false,
  bodyFret: 24,
};

const wishes = (texture: TextureName, instrument: Instrument): TuneWishes => ({
  ...PLAIN_WISHES,
  texture,
  instrument,
});

/** Where a root is a bass is a matter of pitch: on a neck where every place is alike it would tell two apart. */
const NO_BASS: CostTable = { ...COSTS, voicing: { ...COSTS.voicing, onHighRoot: 0 } };

function arranged(tune: Tune, texture: TextureName, instrument: Instrument, costs = COSTS): Arrangement {
  const arrangement = arrangeTune(tune, UNTRANSPOSED, wishes(texture, instrument), costs);
  if (arrangement === undefined) throw new Error("no way through");
  return arrangement;
}

const isClearOfEnds = ({ melody, supports }: Arrangement, lowest: number, highest: number): boolean =>
  [...melody, ...supports].every(({ fret }) => fret >= lowest && fret <= highest);

const textures = fc.constantFrom("fluent" as const, "full" as const, "lean" as const);

describe("on a neck of equal frets without open strings", () => {
  test("a tune moved by some frets has its grips moved by as many", () => {
    // Melody and supports stay clear of the lowest frets, where a barre is harder, and of the neck's ends.
    fc.assert(
      fc.property(
        tuneSketches({ lowest: 66, highest: 74, mostNotes: 6 }),
        fc.integer({ min: 1, max: 3 }),
        textures,
        (sketch, frets, texture) => {
          const tune = tuneOf(sketch);
          const interval = ["1P", "2m", "2M", "3m"][frets] ?? "1P";
          const before = arranged(tune, texture, TEST_NECK, NO_BASS);
          const after = arranged(
            transposedTune(tune, { semitones: frets, interval }),
            texture,
            TEST_NECK,
            NO_BASS,
          );
          // A grip that only one of the two places has room for is no comparison.
          fc.pre(isClearOfEnds(before, 4, 19) && isClearOfEnds(after, 4 + frets, 19 + frets));
          expect(after.cost).toBe(before.cost);
          expect(after.melody).toEqual(before.melody.map((note) => ({ ...note, fret: note.fret + frets })));
          expect(after.supports.map(({ string, fret, finger }) => ({ string, fret, finger }))).toEqual(
            before.supports.map(({ string, fret, finger }) => ({ string, fret: fret + frets, finger })),
          );
        },
      ),
      { numRuns: 150 },
    );
  });
});

describe("on a guitar", () => {
  const everyTune = fc.tuple(tuneSketches({ lowest: 55, highest: 79, mostNotes: 8 }), textures);
  const holds = (check: (tune: Tune, arrangement: Arrangement) => void) =>
    fc.assert(
      fc.property(everyTune, ([sketch, texture]) => {
        const tune = tuneOf(sketch);
        check(tune, arranged(tune, texture, GUITAR));
      }),
      { numRuns: 150 },
    );

  test("every melody note sounds at its own pitch", () =>
    holds((tune, { melody }) => {
      expect(melody.map((place) => midiAt(GUITAR, place.string, place.fret))).toEqual(
        tune.melody.map((note) => note.midi),
      );
    }));

  test("nothing sounds above the melody", () =>
    holds((tune, { supports }) => {
      for (const note of tune.melody) {
        const under = supports.filter(
          (support) => support.onset < note.onset + note.length && support.end > note.onset,
        );
        for (const support of under) expect(support.midi).toBeLessThan(note.midi);
      }
    }));

  test("a supporting note lies at the string and fret, and under the name, of its pitch", () =>
    holds((_, { supports }) => {
      for (const support of supports) {
        expect(midiAt(GUITAR, support.string, support.fret)).toBe(support.midi);
        expect(midiOf(support.pitch)).toBe(support.midi);
      }
    }));

  test("no string sounds two notes at once", () =>
    holds((tune, { supports, melody }) => {
      const sounding = [
        ...supports,
        ...tune.melody.map((note, index) => ({
          string: melody[index]?.string,
          onset: note.onset,
          end: note.onset + note.length,
        })),
      ];
      for (const [index, one] of sounding.entries()) {
        for (const other of sounding.slice(index + 1)) {
          if (one.string === other.string) expect(one.onset < other.end && other.onset < one.end).toBe(false);
        }
      }
    }));

  test("pickups and notes under N.C. are single", () =>
    holds((tune, { events }) => {
      for (const event of events) {
        const span = tune.chords.findLast((chord) => chord.start <= event.onset);
        if (span?.symbol === undefined) expect(event.supports).toEqual([]);
      }
    }));

  test("a quick passing note off the beat is never struck with a chord of its own", () =>
    holds((tune, { events }) => {
      for (const [index, { onset, melodyNote, chord, attack }] of events.entries()) {
        const symbol = tune.chords[chord ?? -1]?.symbol;
        const note = tune.melody[melodyNote ?? -1];
        const before = tune.chords[events[index - 1]?.chord ?? -1]?.symbol;
        if (symbol === undefined || note?.onset !== onset || note.weight > 0) continue;
        if (JSON.stringify(before) !== JSON.stringify(symbol)) continue;
        const isChordTone = chordOf(symbol).tones.some((tone) => tone.pitchClass === note.midi % 12);
        // Two ticks a quarter, a hundred quarters a minute.
        if (!isChordTone && note.length * 0.3 < 0.4) expect(attack).not.toBe("struck");
      }
    }));

  test("no struck supporting note lies a semitone or a minor ninth under the melody", () =>
    holds((tune, { events, supports }) => {
      for (const event of events) {
        const melody = tune.melody[event.melodyNote ?? -1];
        for (const index of event.supports) {
          expect([1, 13]).not.toContain((melody?.midi ?? 0) - (supports[index]?.midi ?? 0));
        }
      }
    }));
});

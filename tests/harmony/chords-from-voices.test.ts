import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { chordName } from "../../src/harmony/chord-name.js";
import { cheapestReading } from "../../src/harmony/from-voices/cheapest-reading.js";
import { chordsFromVoices } from "../../src/harmony/from-voices/chords-from-voices.js";
import { type MetricGrid, type Moment, momentsOf } from "../../src/harmony/from-voices/moments.js";
import { READ_CHORDS } from "../../src/harmony/from-voices/read-chords.js";
import { growingSpan, standingCosts } from "../../src/harmony/from-voices/span-costs.js";
import { READING_WEIGHTS, type ReadingWeights } from "../../src/harmony/from-voices/weights.js";
import { midiOf, midiPitch, mod12, parsePitchName, pitchClass } from "../../src/song/pitch.js";
import type { KeyMark } from "../../src/song/tune.js";
import type { Voice } from "../../src/song/voices.js";

/** Four quarters a bar, two ticks a quarter. */
const GRID: MetricGrid = {
  weightAt: (tick) => (tick % 8 === 0 ? 3 : tick % 8 === 4 ? 2 : tick % 2 === 0 ? 1 : 0),
  beatTicksAt: () => 2,
};

/** A voice in eighths: a note name begins, a dot holds, a dash is silent. */
const voice = (text: string, index: number): Voice => {
  const notes: Voice["notes"][number][] = [];
  text.split(/\s+/).forEach((word, onset) => {
    const last = notes.at(-1);
    if (word === "." && last !== undefined) notes[notes.length - 1] = { ...last, length: last.length + 1 };
    const name = parsePitchName(word);
    if (name === undefined) return;
    const pitch = { ...name, octave: Number(word.slice(-1)) };
    notes.push({ onset, length: 1, pitch, midi: midiOf(pitch), isMelody: index === 0 });
  });
  return { index, name: `Voice ${index + 1}`, notes };
};

const voices = (...texts: readonly string[]): readonly Voice[] => texts.map(voice);

const key = (fifths: number, mode: KeyMark["mode"] = "major"): readonly KeyMark[] => [
  { at: 0, fifths, mode },
];

/** "0 G, 4 D7/F#": where each chord begins, in eighths. */
const readAs = (sung: readonly Voice[], keys = key(0)): string =>
  chordsFromVoices(sung, keys, GRID)
    .map(({ start, symbol }) => `${start} ${chordName(symbol)}`)
    .join(", ");

describe("What voices sing together is one chord", () => {
  test("named with its bass where that is not the root", () => {
    const sung = voices("C5 . . . B4 . . .", "G4 . . . G4 . . .", "E4 . . . D4 . . .", "C3 . . . B2 . . .");
    expect(readAs(sung)).toBe("0 C, 4 G/B");
  });

  test("although a voice passes between two of its tones", () => {
    const sung = voices("E5 D5 C5 . . . . .", "G4 . . . . . . .", "C4 . . . . . . .", "C3 . . . . . . .");
    expect(readAs(sung)).toBe("0 C");
  });

  test("although a note is held over from the chord before and steps down late", () => {
    const sung = voices(
      "C5 . C5 . B4 . C5 .",
      "F4 . G4 . G4 . G4 .",
      "A4 . D4 . D4 . E4 .",
      "F3 . G3 . G3 . C3 .",
    );
    expect(readAs(sung)).toBe("0 F, 2 G, 6 C");
  });

  test("with the seventh that comes in at its end as a chord of its own or as passing, never from the start", () => {
    const sung = voices(
      "B4 . . . C5 . . .",
      "G4 . F4 . E4 . . .",
      "D4 . D4 . C4 . . .",
      "G3 . G3 . C3 . . .",
    );
    expect(readAs(sung)).toMatch(/^0 G, (2 G7, )?4 C$/);
  });

  test("over a bass that is held while the voices move away and back", () => {
    const sung = voices("E5 . F5 . E5 . . .", "G4 . A4 . G4 . . .", "C4 . C4 . C4 . . .", "C3 . . . . . . .");
    expect(readAs(sung)).toMatch(/^0 C(, 2 F\/C, 4 C)?$/);
  });
});

describe("Roots are spelled", () => {
  test("as they are sung, whatever the key", () => {
    const sung = voices(
      "A#4 . . . B4 . . .",
      "E4 . . . D#4 . . .",
      "C#4 . . . B3 . . .",
      "F#3 . . . B2 . . .",
    );
    expect(readAs(sung, key(5))).toBe("0 F#7, 4 B");
  });

  test("so that of a diminished seventh the root is the tone the others stand over in thirds", () => {
    const low = ["F4 . . . Eb4 . . .", "D4 . . . C4 . . .", "B3 . . . C4 . . ."];
    expect(readAs(voices("Ab4 . . . G4 . . .", ...low), key(-3, "minor"))).toBe("0 Bdim7, 4 Cm");
    expect(readAs(voices("G#4 . . . A4 . . .", ...low), key(0, "minor"))).toMatch(/^0 G#dim7\/B/);
  });

  test("by the key where nobody sings them", () => {
    const sung = voices("F4 . . . Eb4 . . .", "D4 . . . Eb4 . . .", "Ab3 . . . G3 . . .");
    expect(readAs(sung, key(-3))).toMatch(/^0 (Ddim|Bb7)\/Ab/);
  });
});

describe("The reading is the cheapest of all", () => {
  const sung = voices("E5 D5 C5 B4 . C5", "G4 . A4 G4 F4 E4", "C4 . C4 D4 . G3", "C3 D3 F3 G3 . C3");
  const moments = momentsOf(sung, GRID);
  const scale = 0b101010110101;

  test("as a search over every pair of chords at every cut finds", () => {
    const spans = cheapestReading(moments, () => scale, READING_WEIGHTS);
    expect(costOf(spans, moments)).toBe(leastOf(moments, READING_WEIGHTS));
  });

  test("and no second reading is cheaper than it", () => {
    for (const { other } of cheapestReading(moments, () => scale, READING_WEIGHTS))
      expect(other?.extraCost).toBeGreaterThanOrEqual(0);
  });

  const spanCost = (first: number, last: number): Int32Array => {
    const standing = standingCosts(scale, READING_WEIGHTS);
    let costs = new Int32Array(READ_CHORDS.length);
    for (const step of growingSpan(moments, first, last, standing, READING_WEIGHTS)) costs = step.slice();
    return costs;
  };

  function change(from: number, to: number, moment: Moment, weights: ReadingWeights): number {
    const before = READ_CHORDS[from];
    const after = READ_CHORDS[to];
    if (before === undefined || after === undefined || from === to) return 0;
    const whole = weights.change[moment.weight] ?? 0;
    if (before.root !== after.root)
      return whole + (weights.rootMotion[(after.root - before.root + 12) % 12] ?? 0);
    const ofBass = Math.round((whole * weights.changeOfBassPercent) / 100);
    const ofKind = Math.round((whole * weights.changeOfKindPercent) / 100);
    return before.kind === after.kind ? Math.min(ofBass, ofKind) : ofKind;
  }

  function costOf(spans: ReturnType<typeof cheapestReading>, all: readonly Moment[]): number {
    let cost = 0;
    let before: number | undefined;
    for (const { first, last, chord } of spans) {
      const index = READ_CHORDS.indexOf(chord);
      const moment = all[first];
      if (before !== undefined && moment !== undefined)
        cost += change(before, index, moment, READING_WEIGHTS);
      cost += spanCost(first, last)[index] ?? 0;
      before = index;
    }
    return cost;
  }

  function leastOf(all: readonly Moment[], weights: ReadingWeights): number {
    const ending: number[][] = [];
    all.forEach((_, end) => {
      const here = READ_CHORDS.map(() => Number.POSITIVE_INFINITY);
      for (let first = 0; first <= end; first += 1) {
        const costs = spanCost(first, end + 1);
        READ_CHORDS.forEach((_chord, to) => {
          let arrive = first === 0 ? 0 : Number.POSITIVE_INFINITY;
          const moment = all[first];
          if (first > 0 && moment !== undefined)
            READ_CHORDS.forEach((_before, from) => {
              arrive = Math.min(arrive, (ending[first - 1]?.[from] ?? 0) + change(from, to, moment, weights));
            });
          here[to] = Math.min(here[to] ?? 0, arrive + (costs[to] ?? 0));
        });
      }
      ending.push(here);
    });
    return Math.min(...(ending.at(-1) ?? []));
  }
});

test("the same voices in another key are the same chords there, also where two readings are as likely", () => {
  const line = fc.array(fc.integer({ min: 48, max: 72 }), { minLength: 1, maxLength: 4 });
  const inKey = (lines: readonly (readonly number[])[], semitones: number) => {
    const sung = lines.map(
      (midis, index): Voice => ({
        index,
        name: `Voice ${index + 1}`,
        notes: midis.map((midi, place) => ({
          onset: 4 * place,
          length: 4,
          pitch: midiPitch(midi + semitones),
          midi: midi + semitones,
          isMelody: index === 0,
        })),
      }),
    );
    return chordsFromVoices(sung, key(mod12(semitones * 7 + 5) - 5), GRID).map(({ start, symbol }) => {
      // Which tone of these is the root follows from the spelling.
      const isSpelled = symbol.kind === "diminished-seventh" || symbol.kind === "augmented";
      const root = isSpelled ? "" : mod12(pitchClass(symbol.root) - semitones);
      const bass = isSpelled ? "" : symbol.bass && mod12(pitchClass(symbol.bass) - semitones);
      return `${start} ${root} ${symbol.kind} ${bass ?? ""}`;
    });
  };
  fc.assert(
    fc.property(
      fc.array(line, { minLength: 1, maxLength: 3 }),
      fc.integer({ min: 1, max: 11 }),
      (lines, semitones) => {
        expect(inKey(lines, semitones)).toEqual(inKey(lines, 0));
      },
    ),
    { numRuns: 100, examples: [[[[65], [47]], 3]] },
  );
});

import fc from "fast-check";
import type { ChordSymbol } from "../../src/song/chord-symbol.js";
import { type Letter, midiOf, type Pitch } from "../../src/song/pitch.js";
import type { ChordSpan, Jump, MelodyNote, MetricWeight, Tune } from "../../src/song/tune.js";

/** A tune from note lengths in eighths, pitches and chords; bars of eight eighths. */
export interface TuneSketch {
  readonly notes: readonly { readonly midi: number; readonly eighths: number; readonly rest: number }[];
  /** Chord kinds and roots with the eighth they start at. */
  readonly chords: readonly {
    readonly at: number;
    readonly root: number;
    readonly kind: string | undefined;
  }[];
  /** Eighths of a repeated strain: from its end back to its start. */
  readonly repeat: readonly [start: number, end: number] | undefined;
}

const KINDS = [
  "major",
  "minor",
  "dominant",
  "major-seventh",
  "minor-seventh",
  "half-diminished",
  "diminished-seventh",
  "major-sixth",
];
const NAMES: readonly [Letter, number][] = [
  ["C", 0],
  ["D", -1],
  ["D", 0],
  ["E", -1],
  ["E", 0],
  ["F", 0],
  ["F", 1],
  ["G", 0],
  ["A", -1],
  ["A", 0],
  ["B", -1],
  ["B", 0],
];

export const tuneSketches = (limits: {
  lowest: number;
  highest: number;
  mostNotes: number;
}): fc.Arbitrary<TuneSketch> =>
  fc.record({
    notes: fc.array(
      fc.record({
        midi: fc.integer({ min: limits.lowest, max: limits.highest }),
        eighths: fc.integer({ min: 1, max: 4 }),
        rest: fc.constantFrom(0, 0, 0, 1),
      }),
      { minLength: 1, maxLength: limits.mostNotes },
    ),
    chords: fc.array(
      fc.record({
        at: fc.integer({ min: 0, max: 2 * limits.mostNotes }),
        root: fc.integer({ min: 0, max: 11 }),
        kind: fc.constantFrom(...KINDS, undefined),
      }),
      { minLength: 1, maxLength: 4 },
    ),
    repeat: fc.option(fc.tuple(fc.integer({ min: 0, max: 4 }), fc.integer({ min: 5, max: 12 })), {
      nil: undefined,
    }),
  });

export function tuneOf(sketch: TuneSketch): Tune {
  const TICKS = 2;
  const pitchOf = (midi: number): Pitch => {
    const [letter, alter] = NAMES[midi % 12] ?? ["C", 0];
    const octave = Math.floor(midi / 12) - 1;
    return { letter, alter, octave };
  };
  let now = 0;
  const firstChord = Math.min(...sketch.chords.map((chord) => chord.at));
  const melody = sketch.notes.map(({ midi, eighths, rest }, index): MelodyNote => {
    const onset = now;
    now += eighths + rest;
    const inBar = onset % 8;
    const weight: MetricWeight = inBar === 0 ? 3 : inBar === 4 ? 2 : inBar % 2 === 0 ? 1 : 0;
    const pitch = pitchOf(midi);
    if (midiOf(pitch) !== midi) throw new Error("misspelled");
    return {
      index,
      onset,
      length: eighths,
      pitch,
      midi,
      measure: Math.floor(onset / 8),
      isPickup: onset < firstChord,
      weight,
    };
  });
  const end = now;
  const sorted = sketch.chords
    .toSorted((a, b) => a.at - b.at)
    .filter((chord, index, all) => chord.at !== all[index - 1]?.at);
  const chords = sorted.map((chord, index): ChordSpan => {
    const [letter, alter] = NAMES[chord.root] ?? ["C", 0];
    const symbol: ChordSymbol | undefined =
      chord.kind === undefined
        ? undefined
        : { root: { letter, alter }, kind: chord.kind, degrees: [], bass: undefined };
    const next = sorted[index + 1]?.at ?? Math.max(end, chord.at + 1);
    return { index, start: chord.at, end: next, symbol, measure: Math.floor(chord.at / 8) };
  });
  const jumps: Jump[] =
    sketch.repeat !== undefined && sketch.repeat[1] <= end
      ? [{ from: sketch.repeat[1], to: sketch.repeat[0] }]
      : [];
  const measures = Array.from({ length: Math.ceil(end / 8) }, (_, index) => ({
    index,
    label: String(index + 1),
    start: index * 8,
    length: 8,
    meter: { beats: 4, beatType: 4 },
  }));
  return {
    title: undefined,
    ticksPerQuarter: TICKS,
    measures,
    melody,
    chords,
    tempos: [],
    keys: [{ at: 0, fifths: 0, mode: "major" }],
    jumps,
  };
}

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { describe, expect, test } from "vitest";
import { STANDARD_TUNING } from "../../src/guitar/instrument.js";
import { parseChordText } from "../../src/harmony/chord-text.js";
import { type Chord, chordOf } from "../../src/harmony/chord-tones.js";
import { shapeName } from "../../src/harmony/shapes/shape-name.js";
import { shapeOf, shapesUnder } from "../../src/harmony/shapes/shape-table.js";
import { transposedSymbol } from "../../src/song/transposition.js";
import { isSharedHere, SHARED } from "../support/shared.js";

/** From C up to B, as tonal names the intervals. */
const KEYS = ["1P", "2m", "2M", "3m", "3M", "4P", "4A", "5P", "6m", "6M", "7m", "7M"];

interface SoundingNote {
  readonly string: number;
  readonly midi: number;
}

function nameAt(chord: Chord, notes: readonly SoundingNote[]): string | undefined {
  const midis = notes.map((note) => note.midi);
  const shape = shapeOf(shapesUnder(chord, (midis.at(-1) ?? 0) % 12), notes, midis);
  return shape === undefined ? undefined : shapeName(shape);
}

const soundingAt = (string: number, fret: number): SoundingNote => ({
  string,
  midi: (STANDARD_TUNING[string - 1] ?? 0) + fret,
});

/** Frets from string 6 up, "x" silent. */
const notesOf = (diagram: string): readonly SoundingNote[] =>
  diagram.split(" ").flatMap((fret, index) => (fret === "x" ? [] : [soundingAt(6 - index, Number(fret))]));

/** What a grip over a chord is in each of the twelve keys, the first its own. */
function namesInEveryKey(text: string, notes: readonly SoundingNote[]): readonly (string | undefined)[] {
  const symbol = parseChordText(text);
  if (symbol === undefined || symbol === "no-chord") throw new Error(`no chord "${text}"`);
  return KEYS.map((key, semitones) =>
    nameAt(
      chordOf(transposedSymbol(symbol, key)),
      notes.map(({ string, midi }) => ({ string, midi: midi + semitones })),
    ),
  );
}

test("a chord over a slash bass and its plain chord have the same shapes, whichever comes first", () => {
  const [triad, overBass] = [notesOf("x x 3 2 1 x"), notesOf("3 x 3 2 1 x")];
  const asked = () => [
    namesInEveryKey("F/G", overBass)[0],
    namesInEveryKey("F", triad)[0],
    namesInEveryKey("F/G", triad)[0],
    namesInEveryKey("F", overBass)[0],
  ];
  const first = asked();
  expect(first).toEqual([
    "close triad, root lowest, over the slash bass",
    "close triad, root lowest",
    "close triad, root lowest",
    undefined,
  ]);
  expect(asked()).toEqual(first);
});

// How the shapes are taught. Common practice.
describe.each([
  ["C7", "x 3 2 3 x x", "shell, root lowest"],
  ["Cm7", "8 x 8 8 x x", "shell, root lowest"],
  ["C9", "x 3 2 3 3 x", "shell, root lowest"],
  ["C7(#9)", "x 3 2 3 4 x", "shell, root lowest"],
  ["C13", "8 x 8 9 10 x", "drop-3, root lowest"],
  ["C13", "x x 8 9 10 8", "drop-2, seventh lowest"],
  ["C13", "x x 8 9 10 10", "rootless thirteenth, seventh lowest"],
  ["C9", "x x 2 3 3 3", "rootless ninth, third lowest"],
  ["C9", "x x 8 9 8 10", "rootless ninth, seventh lowest"],
  ["C7", "x 3 2 3 1 x", "shell, root lowest"],
  ["Cm7", "x 3 1 3 1 x", "shell, root lowest"],
  ["C6", "8 7 7 5 x x", "shell, root lowest"],
  ["C7", "x x 8 9 8 10", "drop-2, seventh lowest, the melody in place of the 1"],
  ["C7", "x x 8 9 8 11", "drop-2, seventh lowest, the melody in place of the 1"],
  ["C7", "x x 8 9 8 9", "drop-2, seventh lowest, the melody in place of the 1"],
  ["C7", "x x 2 3 3 x", "guide tones, third lowest, the melody in place of the 1"],
  ["C7", "x x 8 9 8 x", "guide tones, seventh lowest"],
  ["C7", "x x x 12 11 12", "guide tones, fifth lowest"],
  ["Cm7", "x x 1 3 1 3", "drop-2, third lowest"],
  ["Cm7", "x x 1 3 1 1", "drop-2, third lowest, the melody in place of the 5"],
  ["Cm7", "x x 8 8 8 8", "drop-2, seventh lowest"],
  ["Cm7", "x x 8 8 8 10", "drop-2, seventh lowest, the melody in place of the 1"],
  ["Cm7", "x x 10 10 11 11", "stacked fourths, root lowest"],
  ["Cm7b5", "x x 8 8 7 8", "drop-2, seventh lowest"],
  ["Cmaj7", "x x 5 5 5 7", "drop-2, fifth lowest"],
  ["Cmaj7", "x x 7 9 8 8", "drop-2, sixth lowest"],
  ["C7sus4", "x 3 3 3 x x", "stacked fourths, root lowest"],
  ["C7sus4", "x 3 5 3 6 x", "drop-2, root lowest"],
  ["C", "x x 2 0 3 x", "close triad, third lowest, the melody in place of the 1"],
  ["C", "x x 5 5 6 x", "close triad, fifth lowest, the melody in place of the 3"],
  ["C", "x x 10 9 10 x", "close triad, root lowest, the melody in place of the 5"],
  ["C", "x x 10 9 8 8", "doubled triad, root lowest"],
  ["C", "x x 5 5 5 8", "doubled triad, fifth lowest"],
  ["C", "x x 2 0 1 3", "doubled triad, third lowest"],
  ["C", "x 3 2 0 5 x", "doubled triad, root lowest"],
  ["C", "8 x 10 9 8 x", "doubled triad, root lowest"],
  ["Cm", "x 3 x 5 4 3", "doubled triad, root lowest"],
  ["C/D", "x 5 5 5 5 x", "close triad, fifth lowest, over the slash bass"],
  ["C/E", "x x 2 0 1 x", "close triad, third lowest"],
])("%s at %s", (symbol, frets, name) => {
  test(`is ${name}, in every key`, () => {
    expect(new Set(namesInEveryKey(symbol, notesOf(frets)))).toEqual(new Set([name]));
  });
});

// The first two were struck out by a guitarist who read arrangements bar by bar. Common practice.
describe.each([
  ["C13", "6 x 7 x 5 8", "scattered over the strings"],
  ["Fmaj7", "8 8 x x 10 12", "open in the middle"],
  ["C", "x 3 5 x 5 x", "a triad over more than an octave"],
  ["C9", "10 x 8 9 8 x", "with its ninth lowest"],
  ["C7", "x 3 5 3 x 0", "a drop-2 with a string skipped inside"],
  ["C7", "x 3 2 x 1 x", "without its seventh"],
  ["C", "3 x x x 1 3", "two tones and a hole of more than an octave"],
  ["Dm7", "x x 10 9 8 x", "the triad of another chord"],
])("%s at %s", (symbol, frets, why) => {
  test(`is no shape that players know: ${why}`, () => {
    expect(new Set(namesInEveryKey(symbol, notesOf(frets)))).toEqual(new Set([undefined]));
  });
});

// shared/standards: 64 drop-2 voicings and 24 closed triads, computed from the open strings; 21 of the former
// agree with the chart at guitar-dan.com/chordmelody.html, 59 of all with the chords-db collection.
describe.skipIf(!isSharedHere)("the published tables", () => {
  const published = ["drop2.json", "triads.json"].flatMap((file) => {
    if (!isSharedHere) return [];
    const { qualities } = JSON.parse(readFileSync(`${SHARED}standards/${file}`, "utf8")) as Standard;
    return Object.values(qualities).flatMap(({ musicxmlKind, voicings }) =>
      Object.entries(voicings).flatMap(([set, ofSet]) =>
        ofSet.map((voicing) => ({ file, kind: musicxmlKind, set, ...voicing })),
      ),
    );
  });

  test("are there", () => {
    expect(published).toHaveLength(64 + 24);
  });

  test.each(published)("$kind, $bass lowest, on strings $set", ({ file, kind, set, bass, exampleRootC }) => {
    const symbol = { root: { letter: "C", alter: 0 }, kind, degrees: [], bass: undefined } as const;
    for (const [semitones, key] of KEYS.entries()) {
      const chord = chordOf(transposedSymbol(symbol, key));
      for (const frets of exampleRootC) {
        const notes = frets.map((fret, index) => soundingAt(Number(set[index]), fret + semitones));
        const family = file === "drop2.json" ? "drop-2" : "close triad";
        expect(nameAt(chord, notes)).toBe(`${family}, ${LOWEST[Number(bass.at(-1))]} lowest`);
      }
    }
  });
});

const LOWEST: Readonly<Record<number, string>> = {
  1: "root",
  3: "third",
  5: "fifth",
  6: "sixth",
  7: "seventh",
};

interface Standard {
  readonly qualities: Readonly<
    Record<
      string,
      { readonly musicxmlKind: string; readonly voicings: Readonly<Record<string, readonly Voicing[]>> }
    >
  >;
}

interface Voicing {
  readonly bass: string;
  readonly exampleRootC: readonly (readonly number[])[];
}

// The open collection chords-db, frets alone.
describe("seventh and sixth chords that people entered on four strings", () => {
  const entered = fourToneGripsOfChordsDb();

  test("are shapes with a name, but for other closed positions and those with a string skipped inside", () => {
    const unnamed = entered.filter(({ name }) => name === undefined).map(({ text }) => text);
    expect({ entered: entered.length, unnamed: unnamed.length }).toEqual({ entered: 313, unnamed: 24 });
    expect([...new Set(unnamed)].sort()).toEqual([
      "add9: 5:1 4:3 2:9 1:5",
      "add9: 6:1 5:3 3:9 2:5",
      "aug7: 5:1 4:3 3:b7 1:#5",
      "aug7: 6:1 5:3 4:b7 2:#5",
      "m6: 5:1 4:5 2:b3 1:6",
      "m7b5: 6:1 3:b3 2:b5 1:b7",
      "madd9: 4:1 3:5 2:9 1:b3",
      "madd9: 5:1 4:b3 2:9 1:5",
      "madd9: 6:1 5:b3 3:9 2:5",
      "maj7#5: 4:1 3:3 2:#5 1:7",
      "maj7#5: 5:1 4:3 3:7 1:#5",
    ]);
  });
});

/** Every grip of the collection that holds each tone of a four-note chord once. */
function fourToneGripsOfChordsDb() {
  const { chords } = createRequire(import.meta.url)("@tombatossals/chords-db/lib/guitar.json") as ChordsDb;
  return Object.entries(chords).flatMap(([key, list]) =>
    list.flatMap(({ suffix, positions }) => {
      const symbol = parseChordText(key.replace("sharp", "#") + (SUFFIXES[suffix] ?? suffix));
      if (symbol === undefined || symbol === "no-chord") return [];
      const chord = chordOf(symbol);
      return positions.flatMap(({ frets, baseFret }) => {
        const notes = frets.flatMap((fret, index) =>
          fret < 0 ? [] : [soundingAt(6 - index, fret === 0 ? 0 : fret + baseFret - 1)],
        );
        const sounding = new Set(notes.map(({ midi }) => midi % 12));
        const holdsAll = chord.tones.every(({ pitchClass }) => sounding.has(pitchClass));
        if (chord.tones.length !== 4 || notes.length !== 4 || !holdsAll) return [];
        const text = `${suffix}: ${notes.map(({ string, midi }) => `${string}:${chord.tones.find((tone) => tone.pitchClass === midi % 12)?.label}`).join(" ")}`;
        return [{ text, name: nameAt(chord, notes) }];
      });
    }),
  );
}

/** Suffixes that chord symbols print otherwise. */
const SUFFIXES: Readonly<Record<string, string>> = { mmaj7: "m(maj7)" };

interface ChordsDb {
  readonly chords: Readonly<
    Record<
      string,
      readonly {
        readonly suffix: string;
        readonly positions: readonly { readonly frets: readonly number[]; readonly baseFret: number }[];
      }[]
    >
  >;
}

import { Interval, Note } from "tonal";
import { describe, expect, test } from "vitest";
import { intervalName, intervalNamed } from "../../src/song/interval.js";
import {
  intervalBetween,
  LETTERS,
  midiOf,
  midiPitch,
  nameOf,
  type Pitch,
  parsePitchName,
  pitchClass,
  pitchText,
  simplestName,
  transposeName,
} from "../../src/song/pitch.js";

// The package tonal is the other reading of the same theory.

const NAMES = LETTERS.flatMap((letter) => [-2, -1, 0, 1, 2].map((alter) => ({ letter, alter })));
const PITCHES: readonly Pitch[] = [3, 4, 5].flatMap((octave) => NAMES.map((name) => ({ ...name, octave })));

/** Every interval from a unison to a fifteenth, up and down, up to doubly augmented and diminished. */
const INTERVALS = Array.from({ length: 15 }, (_, steps) => steps + 1).flatMap((number) => {
  const isPerfect = [0, 3, 4].includes((number - 1) % 7);
  const qualities = isPerfect ? ["dd", "d", "P", "A", "AA"] : ["dd", "d", "m", "M", "A", "AA"];
  return qualities.flatMap((quality) => [`${number}${quality}`, `-${number}${quality}`]);
});

test.each(INTERVALS)("%s is as wide as tonal says", (name) => {
  const interval = intervalNamed(name);
  expect(interval.semitones + 0).toBe((Interval.semitones(name) ?? Number.NaN) + 0);
  const { num } = Interval.get(name);
  expect(interval.steps + 0).toBe(num - Math.sign(num));
});

test.each(INTERVALS)(
  "moved by %s a note is called as tonal calls it, with two accidentals at most",
  (name) => {
    for (const from of NAMES) {
      const tonals = Note.transpose(nameOf(from), name);
      const moved = nameOf(transposeName(from, name));
      const isPlain = Math.abs(Note.get(tonals).alt) <= 2;
      expect(moved, `${nameOf(from)} moved by ${name}`).toBe(isPlain ? tonals : Note.simplify(tonals));
    }
  },
);

test("the interval between two pitches leads from the one to the other, by tonal's reckoning too", () => {
  for (const from of PITCHES)
    for (const to of PITCHES) {
      const interval = intervalBetween(from, to);
      const { steps, semitones } = intervalNamed(interval);
      expect(intervalName({ steps, semitones })).toBe(interval);
      expect(semitones + 0).toBe(midiOf(to) - midiOf(from));
      // It knows no more than four signs.
      if (/d{5}|A{5}/.test(interval)) continue;
      expect(Note.transpose(pitchText(from), interval), `${pitchText(from)}, ${interval}`).toBe(
        pitchText(to),
      );
    }
});

test("a note that nothing spells is called as tonal calls it, with flats", () => {
  for (let midi = 12; midi < 128; midi++) expect(pitchText(midiPitch(midi))).toBe(Note.fromMidi(midi));
});

test("it can be spelled with a sharp as well", () => {
  for (let midi = 60; midi < 72; midi++) {
    const name = simplestName(midi - 60, "sharp");
    expect(`${nameOf(name)}4`).toBe(Note.fromMidiSharps(midi));
    expect(pitchClass(name)).toBe(midi - 60);
  }
});

describe("names are read as tonal reads them", () => {
  const NOTES = ["C", "bb", "F##", "fx", "Gxx", "Abbb", "E4", "B-1", "Eb10", "C "];
  test.each(NOTES)("%s", (text) => {
    const { letter, alt } = Note.get(text);
    expect(parsePitchName(text)).toEqual({ letter, alter: alt });
  });

  test.each(["", "H", "4", "C#b", "Cm", "do", "C4x", "#C"])('"%s" is none', (text) => {
    expect(Note.get(text).empty).toBe(true);
    expect(parsePitchName(text)).toBeUndefined();
  });
});

test.each(["", "3", "P", "3P", "5m", "5M", "0P", "3x", "minor third"])('"%s" names no interval', (name) => {
  expect(() => intervalNamed(name)).toThrow(/no interval/);
});

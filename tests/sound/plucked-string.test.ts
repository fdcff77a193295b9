import { expect, test } from "vitest";
import { pluckedString } from "../../src/sound/plucked-string.js";
import { centsFrom, measuredFrequency } from "./measured-pitch.js";

const SAMPLE_RATE = 44_100;

test("the measure finds a sine's frequency to a hundredth of a cent", () => {
  const sine = Float32Array.from({ length: 22_050 }, (_, index) =>
    Math.sin((2 * Math.PI * 329.63 * index) / SAMPLE_RATE),
  );
  const measured = measuredFrequency(sine, 329, SAMPLE_RATE);
  expect(Math.abs(1200 * Math.log2(measured / 329.63))).toBeLessThan(0.01);
});

// Equal temperament from A4 = 440 Hz (ISO 16); E2 to B5, the guitar's range up to its nineteenth fret.
test.each(Array.from({ length: 15 }, (_, step) => 40 + step * 3).concat(83))(
  "the string of MIDI note %i is within half a cent of its pitch",
  (midi) => {
    const samples = pluckedString({ midi, seconds: 0.9, sampleRate: SAMPLE_RATE });
    expect(Math.abs(centsFrom(midi, samples.subarray(4_000, 30_000), SAMPLE_RATE))).toBeLessThan(0.5);
  },
);

test("a plucked string is loudest at first and dies away, a high one sooner", () => {
  const loudness = (midi: number, from: number) => {
    const samples = pluckedString({ midi, seconds: 2, sampleRate: SAMPLE_RATE });
    return Math.sqrt(samples.subarray(from, from + 4_000).reduce((sum, one) => sum + one * one, 0) / 4_000);
  };
  for (const midi of [40, 60, 83]) expect(loudness(midi, 80_000)).toBeLessThan(loudness(midi, 0) * 0.7);
  expect(loudness(83, 60_000) / loudness(83, 0)).toBeLessThan(loudness(40, 60_000) / loudness(40, 0));
});

test("the same note is the same samples", () => {
  const note = { midi: 55, seconds: 0.1, sampleRate: SAMPLE_RATE };
  expect(pluckedString(note)).toEqual(pluckedString(note));
});

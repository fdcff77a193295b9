import { expect, test } from "vitest";
import { frequencyOf, pluckedString } from "../../src/sound/plucked-string.js";

const SAMPLE_RATE = 44_100;

/**
 * The frequency near an expected one at which the samples answer most: a discrete-time Fourier sum under a Hann
 * window, narrowed down by golden section.
 */
function measuredFrequency(samples: Float32Array, near: number): number {
  const strength = (frequency: number): number => {
    let [real, imaginary] = [0, 0];
    for (let index = 0; index < samples.length; index += 1) {
      const window = 0.5 - 0.5 * Math.cos((2 * Math.PI * index) / samples.length);
      const angle = (2 * Math.PI * frequency * index) / SAMPLE_RATE;
      const weighted = (samples[index] ?? 0) * window;
      real += weighted * Math.cos(angle);
      imaginary -= weighted * Math.sin(angle);
    }
    return Math.hypot(real, imaginary);
  };
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [near * 2 ** (-8 / 1200), near * 2 ** (8 / 1200)];
  for (let round = 0; round < 22; round += 1) {
    const [left, right] = [high - ratio * (high - low), low + ratio * (high - low)];
    if (strength(left) > strength(right)) high = right;
    else low = left;
  }
  return (low + high) / 2;
}

const cents = (one: number, other: number): number => 1200 * Math.log2(one / other);

test("the measure finds a sine's frequency to a hundredth of a cent", () => {
  const sine = Float32Array.from({ length: 22_050 }, (_, index) =>
    Math.sin((2 * Math.PI * 329.63 * index) / SAMPLE_RATE),
  );
  expect(Math.abs(cents(measuredFrequency(sine, 329), 329.63))).toBeLessThan(0.01);
});

// Equal temperament from A4 = 440 Hz (ISO 16); E2 to B5, the guitar's range up to its nineteenth fret.
test.each(Array.from({ length: 15 }, (_, step) => 40 + step * 3).concat(83))(
  "the string of MIDI note %i is within half a cent of its pitch",
  (midi) => {
    const samples = pluckedString({ midi, seconds: 0.9, sampleRate: SAMPLE_RATE });
    const measured = measuredFrequency(samples.subarray(4_000, 30_000), frequencyOf(midi));
    expect(Math.abs(cents(measured, frequencyOf(midi)))).toBeLessThan(0.5);
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

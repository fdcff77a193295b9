import { frequencyOf } from "../../src/sound/plucked-string.js";

/**
 * The frequency near an expected one at which the samples answer most: a discrete-time Fourier sum under a Hann
 * window, narrowed down by golden section.
 */
export function measuredFrequency(samples: ArrayLike<number>, near: number, sampleRate: number): number {
  const strength = (frequency: number): number => {
    let [real, imaginary] = [0, 0];
    for (let index = 0; index < samples.length; index += 1) {
      const window = 0.5 - 0.5 * Math.cos((2 * Math.PI * index) / samples.length);
      const angle = (2 * Math.PI * frequency * index) / sampleRate;
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

/** How far samples are from a pitch, cents. */
export const centsFrom = (midi: number, samples: ArrayLike<number>, sampleRate: number): number =>
  cents(measuredFrequency(samples, frequencyOf(midi), sampleRate), frequencyOf(midi));

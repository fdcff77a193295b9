/**
 * A plucked string by the extended Karplus-Strong algorithm: noise goes round a loop one period long, through a
 * filter that dulls it and an allpass that tunes what whole samples cannot (D. Jaffe and J. O. Smith, "Extensions
 * of the Karplus-Strong Plucked-String Algorithm", Computer Music Journal 7(2), 1983; J. O. Smith, "Physical
 * Audio Signal Processing", online). Pure: the same note is the same samples.
 */
export interface PluckedNote {
  /** Any pitch in semitones, 69 being 440 Hz. */
  readonly midi: number;
  readonly seconds: number;
  /** Samples a second. */
  readonly sampleRate: number;
}

/** Where the string is plucked, as a share of its length from the bridge. Common practice. */
const PLUCKED_AT = 0.18;
/** How long a low and a high string ring until a thousandth is left, seconds; low E and B5. From memory. */
const RINGS = { low: 7, high: 2.2 } as const;
const LOWEST = 40;
const HIGHEST = 83;
/** Weight of the sample before in the loop's filter: the higher, the duller; from a low string to a high one. */
const DULLNESS = { low: 0.5, high: 0.28 } as const;
/** The loop gains nothing at any frequency. */
const MOST_GAIN = 0.99995;
/** An allpass is best for a little more than half a sample up to one and a half (Jaffe and Smith). */
const LEAST_TUNED = 0.5;
/** The excitation is dulled, as by the flesh of a finger. */
const SOFTNESS = 0.45;

/** Frequency of a pitch, Hz; equal temperament from A4 = 440 Hz. */
export const frequencyOf = (midi: number): number => 440 * 2 ** ((midi - 69) / 12);

/** Samples of a string plucked once, its loudest about 1. */
export function pluckedString({ midi, seconds, sampleRate }: PluckedNote): Float32Array {
  const frequency = frequencyOf(midi);
  const omega = (2 * Math.PI * frequency) / sampleRate;
  const height = Math.min(Math.max((midi - LOWEST) / (HIGHEST - LOWEST), 0), 1);
  const between = ({ low, high }: { readonly low: number; readonly high: number }) =>
    low + (high - low) * height;
  const dull = between(DULLNESS);
  // What the filter delays and takes away at the fundamental, exactly.
  const filterDelay = Math.atan2(dull * Math.sin(omega), 1 - dull + dull * Math.cos(omega)) / omega;
  const filterGain = Math.hypot(1 - dull + dull * Math.cos(omega), dull * Math.sin(omega));
  const gain = Math.min(10 ** (-3 / (frequency * between(RINGS))) / filterGain, MOST_GAIN);
  const period = sampleRate / frequency;
  const whole = Math.floor(period - filterDelay - LEAST_TUNED);
  const rest = period - filterDelay - whole;
  // The coefficient whose phase delay at the fundamental is `rest`, exactly.
  const tuning = Math.sin((omega - omega * rest) / 2) / Math.sin((omega + omega * rest) / 2);

  const line = excitation(whole, midi);
  const samples = new Float32Array(Math.round(seconds * sampleRate));
  let at = 0;
  let before = 0;
  let tunedIn = 0;
  let tunedOut = 0;
  for (let index = 0; index < samples.length; index += 1) {
    const heard = line[at] ?? 0;
    samples[index] = heard;
    const dulled = gain * ((1 - dull) * heard + dull * before);
    before = heard;
    const tuned = tuning * dulled + tunedIn - tuning * tunedOut;
    tunedIn = dulled;
    tunedOut = tuned;
    line[at] = tuned;
    at = at + 1 === whole ? 0 : at + 1;
  }
  return scaled(samples);
}

/** A burst of noise one period long, dulled, less itself as it comes back from the bridge. */
function excitation(length: number, seed: number): Float32Array {
  const noise = new Float32Array(length);
  let state = (Math.round(seed * 100) * 2_654_435_761) >>> 0 || 1;
  let before = 0;
  for (let index = 0; index < length; index += 1) {
    // Marsaglia's xorshift, 32 bits.
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    before = SOFTNESS * before + (1 - SOFTNESS) * ((state >>> 0) / 2 ** 31 - 1);
    noise[index] = before;
  }
  const back = Math.max(1, Math.round(length * PLUCKED_AT));
  const burst = noise.map((sample, index) => sample - (noise[(index - back + length) % length] ?? 0));
  // Without a mean, which would stay in the loop as silence that is not zero.
  const mean = burst.reduce((sum, sample) => sum + sample, 0) / length;
  return burst.map((sample) => sample - mean);
}

function scaled(samples: Float32Array): Float32Array {
  let loudest = 0;
  for (const sample of samples) loudest = Math.max(loudest, Math.abs(sample));
  if (loudest === 0) return samples;
  for (let index = 0; index < samples.length; index += 1) samples[index] = (samples[index] ?? 0) / loudest;
  return samples;
}

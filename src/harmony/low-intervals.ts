/**
 * The lowest sounding note (MIDI) at which each interval of 1..11 semitones is still clear: m2 E3, M2 Eb3,
 * m3 C3, M3 B2, P4 A2, tritone B1, P5 C#2, sixths and sevenths F2. "Low Interval Limit", Sweetwater inSync
 * (octaves named so that C4 is middle C).
 */
const LOWEST: readonly number[] = [0, 52, 51, 48, 47, 45, 35, 37, 41, 41, 41, 41];

/** By how many semitones the lower of two notes lies under the limit for their interval; 0 where it is clear. */
export function semitonesUnderLimit(lower: number, upper: number): number {
  const limit = LOWEST[upper - lower] ?? 0;
  return Math.max(0, limit - lower);
}

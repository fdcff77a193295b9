/** A distance between two notes. Both numbers are negative where it goes down, octaves are in both. */
export interface Interval {
  /** Letters from one note to the other: a third is 2. */
  readonly steps: number;
  readonly semitones: number;
}

/** Semitones of the perfect and major intervals by their steps, a unison to a seventh. */
const NATURAL_SEMITONES = [0, 2, 4, 5, 7, 9, 11] as const;

/** Steps of the intervals that are perfect; the others are major or minor. */
const PERFECT_STEPS: readonly number[] = [0, 3, 4];

/**
 * An interval by its name: number, then quality; "3m" is a minor third up, "-2M" a major second down, "4A" an
 * augmented fourth, "7dd" a doubly diminished seventh.
 *
 * @throws Error where it is no interval's name
 */
export function intervalNamed(name: string): Interval {
  const known = KNOWN.get(name);
  if (known !== undefined) return known;
  const interval = parsed(name);
  KNOWN.set(name, interval);
  return interval;
}

/** There are a few dozen of them, asked for over and over. */
const KNOWN = new Map<string, Interval>();

function parsed(name: string): Interval {
  const [, sign, number, quality = ""] = /^([-+]?)([1-9]\d*)(d+|m|M|P|A+)$/.exec(name) ?? [];
  const steps = Number(number) - 1;
  const isPerfect = PERFECT_STEPS.includes(steps % 7);
  const isOfOtherKind = isPerfect ? quality === "m" || quality === "M" : quality === "P";
  if (number === undefined || isOfOtherKind) throw new Error(`no interval's name: ${name}`);
  const direction = sign === "-" ? -1 : 1;
  const semitones = naturalSemitones(steps) + changeBy(quality, isPerfect);
  return { steps: direction * steps, semitones: direction * semitones };
}

/** What a quality adds to the perfect or major interval. */
function changeBy(quality: string, isPerfect: boolean): number {
  if (quality.startsWith("A")) return quality.length;
  if (quality.startsWith("d")) return -quality.length - (isPerfect ? 0 : 1);
  return quality === "m" ? -1 : 0;
}

/** The name of an interval. */
export function intervalName({ steps, semitones }: Interval): string {
  const isDown = steps < 0 || (steps === 0 && semitones < 0);
  const [upSteps, upSemitones] = isDown ? [-steps, -semitones] : [steps, semitones];
  const isPerfect = PERFECT_STEPS.includes(upSteps % 7);
  const change = upSemitones - naturalSemitones(upSteps);
  return `${isDown ? "-" : ""}${upSteps + 1}${qualityOf(change, isPerfect)}`;
}

function qualityOf(change: number, isPerfect: boolean): string {
  if (change > 0) return "A".repeat(change);
  if (change === 0) return isPerfect ? "P" : "M";
  if (isPerfect) return "d".repeat(-change);
  return change === -1 ? "m" : "d".repeat(-change - 1);
}

/** Semitones of the perfect or major interval of so many steps up. */
const naturalSemitones = (steps: number): number =>
  12 * Math.floor(steps / 7) + (NATURAL_SEMITONES[steps % 7] ?? 0);

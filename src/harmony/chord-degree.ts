import { LETTERS, mod12, type PitchName, semitonesAboveC } from "../song/pitch.js";

/** Semitones of the degrees of the major scale; 8, 10, 12 and 14 do not occur in chord symbols. */
const NATURAL: Readonly<Record<number, number>> = {
  1: 0,
  2: 2,
  3: 4,
  4: 5,
  5: 7,
  6: 9,
  7: 11,
  8: 12,
  9: 14,
  10: 16,
  11: 17,
  12: 19,
  13: 21,
};

/** A degree above a chord's root: its number and its size in semitones. */
export interface Degree {
  readonly number: number;
  readonly semitones: number;
}

/** Semitones of the unaltered degree of the major scale; RangeError outside 1..13. */
export function naturalSemitones(number: number): number {
  const semitones = NATURAL[number];
  if (semitones === undefined) throw new RangeError(`no degree ${number}`);
  return semitones;
}

/** Reads "b9", "#11", "bb7", "5". */
export function parseDegree(label: string): Degree {
  const match = /^(b*|#*)(\d+)$/.exec(label);
  if (match === null) throw new RangeError(`no degree "${label}"`);
  const accidentals = match[1] ?? "";
  const number = Number(match[2]);
  const alter = accidentals.startsWith("b") ? -accidentals.length : accidentals.length;
  return { number, semitones: naturalSemitones(number) + alter };
}

/** "b9", "#11", "bb7", "5": accidentals against the root's own major scale. */
export function labelOfDegree({ number, semitones }: Degree): string {
  const alter = semitones - naturalSemitones(number);
  return (alter < 0 ? "b".repeat(-alter) : "#".repeat(alter)) + number;
}

/**
 * The note name of a degree over a root, by letter: a raised ninth over G is A sharp, never B flat
 * (spelling strictures, R. Kelley). With more than two accidentals the neighbour letter is taken.
 */
export function spellDegree(root: PitchName, { number, semitones }: Degree): PitchName {
  const rootIndex = LETTERS.indexOf(root.letter);
  const candidates = [number - 1, number, number - 2].map((steps) => {
    const letter = LETTERS[(rootIndex + steps + 14) % 7] ?? "C";
    const raw = mod12(semitonesAboveC(root) + semitones - semitonesAboveC({ letter, alter: 0 }));
    return { letter, alter: raw > 6 ? raw - 12 : raw };
  });
  return candidates.find((name) => Math.abs(name.alter) <= 2) ?? { letter: "C", alter: 0 };
}

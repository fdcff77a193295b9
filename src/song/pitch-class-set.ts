/** Pitch classes as bits of one number: where thousands of sets are asked about, lists would cost more than the answers. */
export type PitchClassSet = number;

/** The pitch class of a MIDI number, or a pitch class itself, as a set of its own. */
export const onlyClassOf = (midi: number): PitchClassSet => 1 << (midi % 12);

export const hasClass = (set: PitchClassSet, pitchClass: number): boolean => (set & (1 << pitchClass)) !== 0;

/** How many pitch classes are in a set. */
export function countOfClasses(set: PitchClassSet): number {
  let count = 0;
  for (let rest = set; rest !== 0; rest &= rest - 1) count += 1;
  return count;
}

import type { SoundingString } from "../../guitar/fingering.js";
import type { Finger } from "../../guitar/grip.js";

/** One finger's fret and the strings it covers, as one number; never 0. */
const fingerUse = (fret: number, from: number, to: number): number => (fret << 8) | (from << 4) | to;

export const fretOfUse = (use: number): number => use >> 8;
export const lowestStringOfUse = (use: number): number => (use >> 4) & 15;
export const highestStringOfUse = (use: number): number => use & 15;

/** What each finger of a grip stops, index finger first; 0 where it is not down. */
export function fingerUses(
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
): readonly [number, number, number, number] {
  const uses: [number, number, number, number] = [0, 0, 0, 0];
  for (let index = 0; index < strings.length; index += 1) {
    const finger = fingers[index] ?? 0;
    const note = strings[index];
    if (finger === 0 || note === undefined) continue;
    const before = uses[finger - 1] ?? 0;
    uses[finger - 1] =
      before === 0
        ? fingerUse(note.fret, note.string, note.string)
        : fingerUse(
            note.fret,
            Math.max(lowestStringOfUse(before), note.string),
            Math.min(highestStringOfUse(before), note.string),
          );
  }
  return uses;
}

/** How far and which way music is moved: "1 octave down", "2 semitones up". */
export function distanceText(semitones: number): string {
  const size = Math.abs(semitones);
  const [count, unit] = isOctaves(semitones) ? [size / 12, "octave"] : [size, "semitone"];
  return `${count} ${unit}${count === 1 ? "" : "s"} ${semitones < 0 ? "down" : "up"}`;
}

/** Whether music moved so far is in the key that it was in. */
export const isOctaves = (semitones: number): boolean => semitones % 12 === 0;

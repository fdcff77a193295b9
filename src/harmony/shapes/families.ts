/** The families of shapes that guitarists learn. */
export const SHAPE_FAMILIES = [
  "close triad",
  "doubled triad",
  "triad under the melody",
  "drop-2",
  "drop-3",
  "rootless ninth",
  "rootless thirteenth",
  "stacked fourths",
  "shell",
  "guide tones",
] as const;

export type ShapeFamily = (typeof SHAPE_FAMILIES)[number];

/** A place in a chord that one tone fills: the ninth may be in the root's, the thirteenth in the fifth's. */
export type Slot = "root" | "third" | "fifth" | "seventh";

/** How a shape lies across the strings: side by side, or with one string left out above the lowest note. */
export type StringSet = "neighbours" | "one skipped above the lowest";

/** What the members of a family have in common. The melody is the highest voice of every one of them. */
export type FamilyDescription = {
  readonly family: ShapeFamily;
  readonly strings: StringSet;
} & (
  | {
      /**
       * Voices from the lowest up, as places in the closed position of the slots under the melody: 0 its lowest
       * note. A place named twice is the chord's own tone below and the melody above.
       */
      readonly opened: readonly number[];
      readonly slots: readonly Slot[];
    }
  | {
      /** Voices from the lowest up by what they are; "melody" is a note of its own above them. */
      readonly voices: readonly (Slot | "melody")[];
    }
  | {
      /** Semitones from voice to voice, from the lowest up. */
      readonly intervals: readonly number[];
    }
);

const TRIAD: readonly Slot[] = ["root", "third", "fifth"];
const SEVENTH: readonly Slot[] = ["root", "third", "fifth", "seventh"];

/**
 * Where two describe one grip, the first counts. Closed triads, and drop 2 as the closed position with its
 * second-highest voice lowered an octave: the shared tables of 24 triads and 64 drop-2 voicings. Drop 3, shells,
 * guide tones, doubled triads, triads under the melody and fourths: common practice.
 */
export const FAMILIES: readonly FamilyDescription[] = [
  { family: "close triad", strings: "neighbours", slots: TRIAD, opened: [0, 1, 2] },
  { family: "drop-2", strings: "neighbours", slots: SEVENTH, opened: [2, 0, 1, 3] },
  { family: "drop-3", strings: "one skipped above the lowest", slots: SEVENTH, opened: [1, 0, 2, 3] },
  // Perfect fourths, one of them augmented where the scale has it so.
  { family: "stacked fourths", strings: "neighbours", intervals: [5, 5, 5] },
  { family: "stacked fourths", strings: "neighbours", intervals: [6, 5, 5] },
  { family: "stacked fourths", strings: "neighbours", intervals: [5, 6, 5] },
  { family: "stacked fourths", strings: "neighbours", intervals: [5, 5, 6] },
  { family: "stacked fourths", strings: "neighbours", intervals: [5, 5] },
  { family: "stacked fourths", strings: "neighbours", intervals: [6, 5] },
  { family: "stacked fourths", strings: "neighbours", intervals: [5, 6] },
  {
    family: "shell",
    strings: "one skipped above the lowest",
    voices: ["root", "seventh", "third", "melody"],
  },
  { family: "shell", strings: "neighbours", voices: ["root", "third", "seventh", "melody"] },
  // Root below and on top, in the place of the fifth: the first seventh chords of a beginner.
  { family: "shell", strings: "neighbours", voices: ["root", "third", "seventh", "root"] },
  { family: "shell", strings: "one skipped above the lowest", voices: ["root", "seventh", "third"] },
  { family: "shell", strings: "neighbours", voices: ["root", "third", "seventh"] },
  { family: "guide tones", strings: "neighbours", voices: ["third", "seventh", "melody"] },
  { family: "guide tones", strings: "neighbours", voices: ["seventh", "third", "melody"] },
  { family: "guide tones", strings: "neighbours", slots: ["root", "third", "seventh"], opened: [0, 1, 2] },
  { family: "guide tones", strings: "neighbours", slots: ["third", "fifth", "seventh"], opened: [0, 1, 2] },
  // The closed triad over the tone that is on top, and over its own middle tone: first-position and barre chords.
  { family: "doubled triad", strings: "neighbours", slots: TRIAD, opened: [2, 0, 1, 2] },
  { family: "doubled triad", strings: "neighbours", slots: TRIAD, opened: [1, 0, 1, 2] },
  // The same with the tone on top an octave above the lowest but one.
  { family: "doubled triad", strings: "neighbours", voices: ["root", "third", "fifth", "third"] },
  { family: "doubled triad", strings: "neighbours", voices: ["third", "fifth", "root", "fifth"] },
  { family: "doubled triad", strings: "neighbours", voices: ["fifth", "root", "third", "root"] },
  // The closed triad over its own root an octave lower: what is left of a barre chord without the string between.
  {
    family: "doubled triad",
    strings: "one skipped above the lowest",
    voices: ["root", "root", "third", "fifth"],
  },
  {
    family: "triad under the melody",
    strings: "neighbours",
    voices: ["root", "third", "fifth", "melody"],
  },
  {
    family: "triad under the melody",
    strings: "neighbours",
    voices: ["third", "fifth", "root", "melody"],
  },
  {
    family: "triad under the melody",
    strings: "neighbours",
    voices: ["fifth", "root", "third", "melody"],
  },
];

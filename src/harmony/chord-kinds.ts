/**
 * Degrees of every kind value of MusicXML 4.0, from the W3C page "kind-value data type". W3C states none
 * for the last seven: the augmented sixths count from their lowest note and the Neapolitan is a major
 * triad (common practice); a pedal is its root alone; "other" is built from its degrees.
 */
export const CHORD_KINDS: Readonly<Record<string, readonly string[]>> = {
  major: ["1", "3", "5"],
  minor: ["1", "b3", "5"],
  augmented: ["1", "3", "#5"],
  diminished: ["1", "b3", "b5"],
  dominant: ["1", "3", "5", "b7"],
  "major-seventh": ["1", "3", "5", "7"],
  "minor-seventh": ["1", "b3", "5", "b7"],
  "diminished-seventh": ["1", "b3", "b5", "bb7"],
  "augmented-seventh": ["1", "3", "#5", "b7"],
  "half-diminished": ["1", "b3", "b5", "b7"],
  "major-minor": ["1", "b3", "5", "7"],
  "major-sixth": ["1", "3", "5", "6"],
  "minor-sixth": ["1", "b3", "5", "6"],
  "dominant-ninth": ["1", "3", "5", "b7", "9"],
  "major-ninth": ["1", "3", "5", "7", "9"],
  "minor-ninth": ["1", "b3", "5", "b7", "9"],
  "dominant-11th": ["1", "3", "5", "b7", "9", "11"],
  "major-11th": ["1", "3", "5", "7", "9", "11"],
  "minor-11th": ["1", "b3", "5", "b7", "9", "11"],
  "dominant-13th": ["1", "3", "5", "b7", "9", "11", "13"],
  "major-13th": ["1", "3", "5", "7", "9", "11", "13"],
  "minor-13th": ["1", "b3", "5", "b7", "9", "11", "13"],
  "suspended-second": ["1", "2", "5"],
  "suspended-fourth": ["1", "4", "5"],
  power: ["1", "5"],
  Tristan: ["1", "#4", "#6", "#9"],
  Neapolitan: ["1", "3", "5"],
  Italian: ["1", "3", "#6"],
  French: ["1", "3", "#4", "#6"],
  German: ["1", "3", "5", "#6"],
  pedal: ["1"],
  other: ["1"],
};

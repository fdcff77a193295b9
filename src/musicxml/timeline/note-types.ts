/** Note types of MusicXML from the longest down; each lasts half of the one before. */
export const NOTE_TYPES = [
  "maxima",
  "long",
  "breve",
  "whole",
  "half",
  "quarter",
  "eighth",
  "16th",
  "32nd",
  "64th",
  "128th",
  "256th",
  "512th",
  "1024th",
] as const;
export type NoteType = (typeof NOTE_TYPES)[number];

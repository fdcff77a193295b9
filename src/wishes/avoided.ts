import type { SoundingString } from "../guitar/fingering.js";
import type { Finger } from "../guitar/grip.js";
import type { AvoidWish } from "./wishes.js";

/** What a player does not want used. */
export type Avoided = Pick<AvoidWish, "fingers" | "strings" | "frets">;

/** Whether a string, or a string at a fret, is one to leave alone; open strings are in no region of frets. */
export const isPlaceAvoided = ({ strings, frets }: Avoided, note: SoundingString): boolean =>
  strings.includes(note.string) ||
  (frets !== undefined && note.fret > 0 && note.fret >= frets[0] && note.fret <= frets[1]);

export const isFingerAvoided = ({ fingers }: Avoided, finger: Finger): boolean =>
  finger > 0 && fingers.includes(finger);

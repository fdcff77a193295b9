import { lastUntil } from "../../song/in-time-order.js";
import type { Letter } from "../../song/pitch.js";
import { fifthsAboveC } from "./moved-name.js";
import type { PartNote, VoiceItem } from "./voice-item.js";

/** What is drawn before a note that is altered by so many semitones. */
export const SIGNS: Readonly<Record<number, string>> = {
  [-2]: "flat-flat",
  [-1]: "flat",
  0: "natural",
  1: "sharp",
  2: "double-sharp",
};

/** A key signature in force from a time on; `fifths` already moved with the tune. */
export interface KeyInForce {
  readonly at: number;
  readonly fifths: number;
  /** What a signature that lists its accidentals does to each letter, moved; undefined where fifths say it. */
  readonly listed?: ReadonlyMap<Letter, number> | undefined;
}

/**
 * The accidental each note of a measure needs on the notation staff: where it differs from the key and
 * from what stands before it in the measure, whichever voice that is in. A note tied over from the
 * measure before needs none. Programs that draw only what is written depend on these.
 */
export function accidentalsIn(
  items: readonly VoiceItem[],
  keys: readonly KeyInForce[],
): ReadonlyMap<PartNote, string> {
  const signs = new Map<PartNote, string>();
  const inTime = items
    .map((item, index) => ({ item, index }))
    .sort((one, other) => one.item.at - other.item.at || one.index - other.index);
  let key: KeyInForce | undefined;
  let altered = new Map<string, number>();
  for (const { item } of inTime) {
    const now = lastUntil(keys, item.at, ({ at }) => at) ?? keys[0];
    if (now !== key) altered = new Map();
    key = now;
    for (const note of item.notes) {
      if (note.tiedFrom) continue;
      const { letter, alter, octave } = note.pitch;
      const place = `${letter}${octave}`;
      const sign = SIGNS[alter];
      if (sign !== undefined && alter !== (altered.get(place) ?? alterInKey(letter, key)))
        signs.set(note, sign);
      altered.set(place, alter);
    }
  }
  return signs;
}

/** What a key signature does to a letter; nothing where there is none. */
export function alterInKey(letter: Letter, key: KeyInForce | undefined): number {
  if (key === undefined) return 0;
  if (key.listed !== undefined) return key.listed.get(letter) ?? 0;
  // A key of n sharps raises the letters that stand less than n - 1 fifths above C; flats the same downwards.
  return Math.floor((key.fifths + 5 - fifthsAboveC({ letter, alter: 0 })) / 7);
}

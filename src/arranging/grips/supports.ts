import type { SoundingString } from "../../guitar/fingering.js";
import type { Finger } from "../../guitar/grip.js";
import { picked, withOneMore } from "./small-lists.js";

/** Nothing thinner is left to ring under a moving melody, save under a note that passes by. */
export const FEWEST_HELD = 2;

/** Supporting notes of a grip with the fingers on them, low to high. */
export interface Supports {
  /** Says strings, frets and fingers: two with one name are held alike. */
  readonly name: string;
  readonly strings: readonly SoundingString[];
  readonly fingers: readonly Finger[];
  readonly midis: readonly number[];
  readonly degrees: readonly string[];
}

/** Those of a grip whose lists may go on with the melody note. */
export function supportsOf(given: Omit<Supports, "name">): Supports {
  const count = given.degrees.length;
  return named({
    strings: given.strings.slice(0, count),
    fingers: given.fingers.slice(0, count),
    midis: given.midis.slice(0, count),
    degrees: given.degrees,
  });
}

/** Them with the melody note over them, which may ring on as one of them. */
export const withMelodyNote = (supports: Supports, melody: MelodyAmong): Supports =>
  named({
    strings: withOneMore(supports.strings, { string: melody.string, fret: melody.fret }),
    fingers: withOneMore(supports.fingers, melody.finger),
    midis: withOneMore(supports.midis, melody.midi),
    degrees: withOneMore(supports.degrees, melody.degree),
  });

/** What is said of a melody note as one of the supports. */
export interface MelodyAmong extends SoundingString {
  readonly finger: Finger;
  readonly midi: number;
  readonly degree: string;
}

/** Some of them, by place. */
export const someSupports = (whole: Supports, indexes: readonly number[]): Supports =>
  named({
    strings: picked(whole.strings, indexes),
    fingers: picked(whole.fingers, indexes),
    midis: picked(whole.midis, indexes),
    degrees: picked(whole.degrees, indexes),
  });

/** Degrees by their labels, so that the same ones are one list. */
export type DegreeLists = Map<string, readonly string[]>;

/** Answers the same supporting notes, degrees and all, with the same object, so that what is known of them is found again. */
export function sharedSupports(lists: DegreeLists): (given: Supports) => Supports {
  const known = new Map<string, Supports>();
  return (given) => {
    const labels = given.degrees.join();
    const key = given.name + labels;
    const before = known.get(key);
    if (before !== undefined) return before;
    const degrees = lists.get(labels) ?? given.degrees;
    lists.set(labels, degrees);
    const shared = degrees === given.degrees ? given : { ...given, degrees };
    known.set(key, shared);
    return shared;
  };
}

// Named one by one, since the engine is slow at copying what another object has.
function named({ strings, fingers, midis, degrees }: Omit<Supports, "name">): Supports {
  let name = "";
  for (let index = 0; index < strings.length; index += 1) {
    const { string, fret } = strings[index] ?? { string: 0, fret: 0 };
    name += nameOfNote(string, fret, fingers[index] ?? 0);
  }
  return { name, strings, fingers, midis, degrees };
}

/** What a name says of one note; that of the highest is the last. */
export const nameOfNote = (string: number, fret: number, finger: number): string =>
  `${string}:${fret}:${finger} `;

import type { Finger } from "../guitar/grip.js";
import type { TextureName } from "../options/options.js";

/** What a player wants of an arrangement; the rest is arranged around it. Times are ticks of the tune. */
export type Wish = GripWish | PlayWish | AvoidWish | TextureWish;

interface Worded {
  /** How the wish was put, for messages: "wish 3 (measure 5, beat 1)". */
  readonly wording: string;
}

/** This grip and no other at one moment; fingers that are not given are free. */
export interface GripWish extends Worded {
  readonly kind: "grip";
  readonly at: number;
  readonly strings: readonly WishedString[];
  /** Something is struck here although neither a melody note nor a chord begins. */
  readonly isOwnMoment?: boolean;
}

export interface WishedString {
  readonly string: number;
  readonly fret: number;
  readonly finger?: Finger;
  /** A supporting note that rings on from the moment before and is not struck again. */
  readonly isHeld?: boolean;
}

/** One melody note single, or with harmony: struck or held. */
export interface PlayWish extends Worded {
  readonly kind: "play";
  readonly at: number;
  readonly as: "single" | "chord";
}

/** Fingers, strings or a region of frets not to be used from one tick up to another. */
export interface AvoidWish extends Worded {
  readonly kind: "avoid";
  readonly from: number;
  readonly to: number;
  readonly fingers: readonly Finger[];
  readonly strings: readonly number[];
  /** Lowest and highest fret of a region, both in it. */
  readonly frets: readonly [lowest: number, highest: number] | undefined;
}

/** Another texture from one tick up to another. */
export interface TextureWish extends Worded {
  readonly kind: "texture";
  readonly from: number;
  readonly to: number;
  readonly texture: TextureName;
}

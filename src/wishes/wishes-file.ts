import type { Finger } from "../guitar/grip.js";
import type { TextureName } from "../options/options.js";

/** What a player writes down about an arrangement. Measures count from 1 by position, frets as TAB does. */
export interface WishesFile {
  readonly wishes: readonly WrittenWish[];
}

export const NO_WISHES: WishesFile = { wishes: [] };

export type WrittenWish = WrittenGrip | WrittenPlay | WrittenAvoid | WrittenTexture | WrittenMelody;

/** A moment: quarter notes from the start of the measure, plus 1. */
interface AtMoment {
  readonly measure: number;
  readonly beat: number;
}

/** One measure, or the first and the last of several. */
interface InMeasures {
  readonly measures: readonly [number] | readonly [number, number];
}

/** This grip and no other; fingers that are not given are free. */
export interface WrittenGrip extends AtMoment {
  readonly grip: readonly WrittenString[];
}

export interface WrittenString {
  readonly string: number;
  readonly fret: number;
  /** 0 for an open string, where it is not left out. */
  readonly finger?: Finger;
  /** A supporting note that rings on from the moment before. */
  readonly held?: boolean;
}

/** A melody note alone, or with a chord. */
export interface WrittenPlay extends AtMoment {
  readonly play: "single" | "chord";
}

/** What is not to be used. */
export interface WrittenAvoid extends InMeasures {
  readonly avoid: {
    readonly fingers?: readonly Finger[];
    readonly strings?: readonly number[];
    /** Lowest and highest fret of a region, both in it. */
    readonly frets?: readonly [lowest: number, highest: number];
  };
}

export interface WrittenTexture extends InMeasures {
  readonly texture: TextureName;
}

/** Where the tune is in these measures, named as for the option melody. */
export interface WrittenMelody extends InMeasures {
  readonly melody: string;
}

/** The measures in which the tune is in another part. */
export const linesWished = ({ wishes }: WishesFile): readonly WrittenMelody[] =>
  wishes.filter((wish) => "melody" in wish);

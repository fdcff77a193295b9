import { mod12 } from "../../song/pitch.js";
import { parseDegree } from "../chord-degree.js";
import { CHORD_KINDS } from "../chord-kinds.js";
import type { ReadKind } from "./weights.js";

/** A chord that a reading may name: a root, a kind, and which of its tones lies lowest. */
export interface ReadChord {
  readonly root: number;
  readonly kind: ReadKind;
  /** 0 root, 1 third, 2 fifth, 3 seventh. */
  readonly inversion: number;
  readonly bass: number;
  /** Pitch classes from the root up. */
  readonly tones: readonly number[];
}

const KINDS: readonly ReadKind[] = [
  "major",
  "minor",
  "diminished",
  "augmented",
  "dominant",
  "minor-seventh",
  "major-seventh",
  "half-diminished",
  "diminished-seventh",
];

/** Every chord that can be named, those of one root and kind side by side, root position first. */
export const READ_CHORDS: readonly ReadChord[] = [...Array(12).keys()].flatMap((root) =>
  KINDS.flatMap((kind) => {
    const tones = (CHORD_KINDS[kind] ?? []).map((label) => mod12(root + parseDegree(label).semitones));
    return tones.map((bass, inversion): ReadChord => ({ root, kind, inversion, bass, tones }));
  }),
);

/** Pitch classes as bits of a number. */
export const maskOf = (pitchClasses: readonly number[]): number =>
  pitchClasses.reduce((mask, one) => mask | (1 << one), 0);

import { isSameName, type PitchName } from "./pitch.js";

/** A chord symbol as MusicXML 4.0 states it, sounding. What it asks for is worked out in `chord-tones.ts`. */
export interface ChordSymbol {
  readonly root: PitchName;
  /** One of the kind values of MusicXML 4.0, never "none". */
  readonly kind: string;
  readonly degrees: readonly DegreeChange[];
  readonly bass: PitchName | undefined;
}

/** One `<degree>`: `alter` in semitones, with the standard's meaning for its type. */
export interface DegreeChange {
  readonly type: "add" | "alter" | "subtract";
  readonly value: number;
  readonly alter: number;
}

/** Whether two symbols are written alike, enharmonic spelling included. */
export function isSameSymbol(one: ChordSymbol | undefined, other: ChordSymbol | undefined): boolean {
  if (one === other) return true;
  return (
    one !== undefined &&
    other !== undefined &&
    one.kind === other.kind &&
    isSameName(one.root, other.root) &&
    isSameName(one.bass, other.bass) &&
    one.degrees.length === other.degrees.length &&
    one.degrees.every((degree, index) => isSameDegree(degree, other.degrees[index]))
  );
}

const isSameDegree = (one: DegreeChange, other: DegreeChange | undefined): boolean =>
  one.type === other?.type && one.value === other.value && one.alter === other.alter;

import type { PitchName } from "./pitch.js";

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

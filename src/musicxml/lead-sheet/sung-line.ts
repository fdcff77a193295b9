import type { Quarters } from "../timeline/exact-time.js";
import type { WalkedNote, WalkedPart } from "../timeline/walked-part.js";

/** Where the tune is, and what stands there. */
export interface MelodyLine {
  /** The part whose bars, meters and keys count. */
  readonly part: WalkedPart;
  readonly staff: string;
  readonly voice: string;
  /** Every note and rest of the line, in the order of the file. */
  readonly notes: readonly LineNote[];
}

/** A note of the line; its time is that of the line's part, which it may have come to from another. */
export interface LineNote extends WalkedNote {
  readonly from: WalkedPart;
  /** Its time in the part it came from. */
  readonly atThere: Quarters;
}

/** A note that can be tune: pitched, with time of its own, and meant to be played. */
export const isSung = (note: WalkedNote): boolean =>
  note.kind === "note" && !note.isGrace && !note.isSilent && note.length.n > 0n;

/** The word for the highest notes of a part, in the place of a voice. */
export const TOP = "top";

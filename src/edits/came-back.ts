import type { Digests } from "../arrangement/measure-digests.js";
import type { GuitarScore } from "../guitar/guitar-score.js";

/** A guitar part that came back, with what the score says of its making. */
export interface CameBack {
  readonly guitar: GuitarScore;
  readonly digests: Digests | undefined;
  /** Whether what the player did not touch is to stay: not where other options are asked for now. */
  readonly isRestKept: boolean;
}

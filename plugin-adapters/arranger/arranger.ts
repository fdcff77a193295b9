import type { ArrangeOptions, Finding } from "undervoice";

/** A score as it came, and what is to become of it. */
export interface ArrangeJob {
  readonly score: Uint8Array;
  readonly options: ArrangeOptions;
  /** Whether the guitar score is to be a compressed one (.mxl). */
  readonly isCompressed: boolean;
}

export type ArrangeResult =
  | { readonly kind: "done"; readonly score: Uint8Array; readonly findings: readonly Finding[] }
  /** The score cannot be read or arranged; the last finding says why. */
  | { readonly kind: "refused"; readonly findings: readonly Finding[] };

/** What an adapter has scores arranged by. */
export interface Arranger {
  arrange(job: ArrangeJob): Promise<ArrangeResult>;
  close(): Promise<void>;
}

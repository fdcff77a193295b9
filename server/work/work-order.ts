import type { ArrangeOptions, Finding } from "undervoice";

/** What a thread is told to do. */
export interface WorkOrder {
  /** Path of the job. */
  readonly path: string;
  readonly score: Uint8Array;
  readonly options: ArrangeOptions;
  readonly mediaType: string;
}

/** What a thread answers with. */
export type WorkResult =
  | { readonly kind: "done"; readonly body: Uint8Array; readonly warnings: number }
  /** The score cannot be read or worked on; the last finding says why. */
  | { readonly kind: "refused"; readonly findings: readonly Finding[] };

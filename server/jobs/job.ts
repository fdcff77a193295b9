import type { ArrangeOptions, Findings } from "undervoice";

/** A JSON Schema, as far as a description of the service needs to know. */
export type Schema = Readonly<Record<string, unknown>>;

/**
 * One thing that is done with a score. Pure; it runs in a thread of its own, and everything the service
 * knows of it stands in one file.
 */
export interface Job {
  /** The resource it is asked for at. */
  readonly path: `/${string}`;
  /** One line for lists. */
  readonly summary: string;
  readonly description: string;
  /** What it can answer with, the usual one first. */
  readonly answers: readonly Answer[];
  /**
   * The body of the answer.
   *
   * @throws ScoreError where the score cannot be read or worked on
   */
  run(score: Uint8Array, options: ArrangeOptions, findings: Findings, mediaType: string): Uint8Array | string;
}

export interface Answer {
  readonly mediaType: string;
  readonly description: string;
  readonly schema: Schema;
}

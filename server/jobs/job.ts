import type { ArrangeOptions, Findings, OptionName } from "undervoice";

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
  /** Options it goes by; it refuses the others. */
  readonly options: readonly OptionName[];
  /** What it can answer with, the usual one first. */
  readonly answers: readonly Answer[];
  /** What its answers refer to as #/components/schemas/NAME. */
  readonly schemas: Readonly<Record<string, Schema>>;
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

/** A schema as part of a description, which has one dialect for all; ours use nothing that differs in it. */
export const withoutDialect = ({ $schema: _dialect, ...schema }: Schema): Schema => schema;

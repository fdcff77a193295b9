import type { ArrangeOptions, DoneFor, OptionName, Order, WishesFile } from "undervoice";

/** A JSON Schema, as far as a description of the service needs to know. */
export type Schema = Readonly<Record<string, unknown>>;

/**
 * One thing that is done with a score: how the request becomes an order for a worker, and the worker's answer a
 * body. Everything the service knows of it stands in one file.
 */
export interface Job<Asked extends Order = Order> {
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
  /** Whether a player's wishes may come with the score. */
  readonly takesWishes?: boolean;
  order(request: CheckedRequest, mediaType: string): Asked;
  /** The body of the answer. */
  body(done: DoneFor[Asked["kind"]], mediaType: string): Uint8Array | string;
}

/** A request in which everything but the score itself was checked. */
export interface CheckedRequest {
  readonly score: Uint8Array;
  readonly options: ArrangeOptions;
  readonly wishes: WishesFile | undefined;
}

export interface Answer {
  readonly mediaType: string;
  readonly description: string;
  readonly schema: Schema;
}

/** A schema as part of a description, which has one dialect for all; ours use nothing that differs in it. */
export const withoutDialect = ({ $schema: _dialect, ...schema }: Schema): Schema => schema;

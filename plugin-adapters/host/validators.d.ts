import type { Host } from "./host.js";

/** One thing in a manifest that its schema does not allow. */
export interface SchemaFault {
  readonly keyword: string;
  /** JSON pointer; empty for the whole manifest. */
  readonly instancePath: string;
  readonly data?: unknown;
  readonly params: Readonly<Record<string, unknown>>;
  readonly message?: string;
}

/** Made from `HOST_SCHEMA` when the program is built; `errors` is about the last value asked about. */
export const fitsHost: {
  (value: unknown): value is Host;
  readonly errors?: readonly SchemaFault[] | null;
};

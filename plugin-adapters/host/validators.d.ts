import type { SchemaFault } from "#built/json/validator.js";
import type { Host } from "./host.js";

/** Made from `HOST_SCHEMA` when the program is built; `errors` is about the last value asked about. */
export const fitsHost: {
  (value: unknown): value is Host;
  readonly errors?: readonly SchemaFault[] | null;
};

import { createRequire } from "node:module";

/** The version in the package file, which stands one folder above both src/ and dist/. */
export const version = (): string => createRequire(import.meta.url)("../../package.json").version;

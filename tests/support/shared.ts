import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";

/** The shared folder beside the checkout: standards, corpus, the outside judge. Absent on most machines. */
export const SHARED = fileURLToPath(new URL("../../../shared/", import.meta.url));

export const isSharedHere = existsSync(SHARED);

/** Says once why the tests that need the folder are skipped. */
if (!isSharedHere)
  console.warn("The shared folder is not beside this checkout: the tests that read it are skipped.");

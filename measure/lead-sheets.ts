import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";

/** The lead sheets that are measured where no folder is named. */
export const LEAD_SHEETS = fileURLToPath(new URL("../../../shared/corpus/lead-sheets/", import.meta.url));

/** The names of the scores in a folder, in the order of the alphabet. */
export const scoreNames = (folder: string): readonly string[] =>
  readdirSync(folder)
    .filter((name) => /\.(musicxml|xml|mxl)$/.test(name))
    .toSorted();

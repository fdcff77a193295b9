import { readdir, readFile } from "node:fs/promises";
import { join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import type { PageFiles } from "#built/server/page-files.js";

/** The page is built into a folder of the service; its place is told from the bundle of the command line. */
const FOLDER = fileURLToPath(new URL("../server/page/", import.meta.url));

/** The files of the page as it was built, by their path from "/"; none where it was not built. */
export async function builtPage(folder: string = FOLDER): Promise<PageFiles> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  const files = entries
    .filter((entry) => entry.isFile())
    .map(async (entry) => {
      const path = join(entry.parentPath, entry.name);
      return [`/${relative(folder, path).split(sep).join("/")}`, await readFile(path)] as const;
    });
  return new Map(await Promise.all(files));
}

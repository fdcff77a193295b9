import { randomUUID } from "node:crypto";
import { lstat, mkdir, open, readdir, rename, rm } from "node:fs/promises";
import { dirname, join } from "node:path";

/**
 * Puts a file in its place whole or not at all: written beside it under a name nobody has, then renamed.
 * A link in its place is replaced, never followed, and so is what it points to left alone.
 *
 * @throws the system's error
 */
export async function putFile(path: string, bytes: Uint8Array): Promise<void> {
  const temporary = join(dirname(path), temporaryName());
  try {
    const file = await open(temporary, "wx");
    try {
      await file.writeFile(bytes);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  }
}

/**
 * Makes a folder and those that it is to be in, where they are not there.
 *
 * @throws the system's error
 */
export async function makeFolder(path: string): Promise<void> {
  await mkdir(path, { recursive: true })
    // Node calls a file system that may not be written a missing folder; the last step by itself says what it is.
    .catch(() => mkdir(path));
}

/** What a file is called while it is written; `sweepLeftovers` knows it. */
export const temporaryName = (): string => `.undervoice-${randomUUID()}.part`;
const TEMPORARY_NAME = /^\.undervoice-[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\.part$/;

/** No file takes longer to be written, in milliseconds. */
const LONGEST_WRITING_MS = 60_000;

/**
 * Takes away what was left in a folder by a program that was ended in the middle of writing. What may still be
 * written by another stays.
 */
export async function sweepLeftovers(folder: string): Promise<void> {
  const names = await readdir(folder).catch(() => []);
  for (const name of names.filter((one) => TEMPORARY_NAME.test(one))) {
    const path = join(folder, name);
    const isOld = await lstat(path).then(
      ({ mtimeMs }) => Date.now() - mtimeMs > LONGEST_WRITING_MS,
      () => false,
    );
    if (isOld) await rm(path, { force: true }).catch(() => undefined);
  }
}

/** What stands at a path, links not followed. */
export async function standsAt(path: string): Promise<"nothing" | "file" | "something else"> {
  try {
    return (await lstat(path)).isFile() ? "file" : "something else";
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return "nothing";
    throw error;
  }
}

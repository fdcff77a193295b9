import { randomUUID } from "node:crypto";
import { lstat, open, rename, rm } from "node:fs/promises";
import { dirname, join } from "node:path";

/**
 * Puts a file in its place whole or not at all: written beside it under a name nobody has, then renamed.
 * A link in its place is replaced, never followed, and so is what it points to left alone.
 *
 * @throws the system's error
 */
export async function putFile(path: string, bytes: Uint8Array): Promise<void> {
  const temporary = join(dirname(path), `.undervoice-${randomUUID()}.part`);
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

/** What stands at a path, links not followed. */
export async function standsAt(path: string): Promise<"nothing" | "file" | "something else"> {
  try {
    return (await lstat(path)).isFile() ? "file" : "something else";
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return "nothing";
    throw error;
  }
}

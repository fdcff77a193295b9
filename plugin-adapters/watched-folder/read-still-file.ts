import { constants } from "node:fs";
import { type FileHandle, lstat, open } from "node:fs/promises";
import { FILE_LIMITS } from "undervoice";
import { signatureOf } from "./folder-look.js";

/** Neither follows a link that has taken the file's place since the look, nor waits at a pipe. Windows has no such flags. */
const READ_PLAIN_FILE = constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0);

export type StillFile =
  | { readonly kind: "read"; readonly bytes: Uint8Array }
  /** It is not what it was at the look, or another program holds it: to be looked at again. */
  | { readonly kind: "changed" }
  /** More bytes than are read of any score; none were. */
  | { readonly kind: "tooLarge"; readonly size: number }
  | { readonly kind: "barred"; readonly error: unknown };

/** Reads a file that looked like `signature`, if it still does before and after. */
export async function readStillFile(path: string, signature: string): Promise<StillFile> {
  let file: FileHandle | undefined;
  try {
    file = await open(path, READ_PLAIN_FILE);
    if (!(await looksLike(file, signature))) return { kind: "changed" };
    const { size } = await file.stat();
    if (size > FILE_LIMITS.plainBytes) return { kind: "tooLarge", size };
    const bytes = await file.readFile();
    return (await looksLike(file, signature)) ? { kind: "read", bytes } : { kind: "changed" };
  } catch (error) {
    return PASSING.has((error as NodeJS.ErrnoException).code ?? "")
      ? { kind: "changed" }
      : { kind: "barred", error };
  } finally {
    await file?.close();
  }
}

async function looksLike(file: FileHandle, signature: string): Promise<boolean> {
  const facts = await file.stat({ bigint: true });
  return facts.isFile() && signatureOf(facts) === signature;
}

/** Errors that pass: gone, become a link, held by the program that writes it. */
const PASSING = new Set(["ENOENT", "ELOOP", "EBUSY", "EMFILE", "ENFILE"]);

/**
 * Reads a file that is one; undefined where there is none, or a link or something else in its place.
 *
 * @throws the system's error where it is not permitted
 */
export async function readPlainFile(path: string): Promise<Uint8Array | undefined> {
  let file: FileHandle | undefined;
  try {
    if (!(await lstat(path)).isFile()) return undefined;
    file = await open(path, READ_PLAIN_FILE);
    return (await file.stat()).isFile() ? await file.readFile() : undefined;
  } catch (error) {
    if (PASSING.has((error as NodeJS.ErrnoException).code ?? "")) return undefined;
    throw error;
  } finally {
    await file?.close();
  }
}

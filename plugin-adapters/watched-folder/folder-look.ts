import { lstat, readdir } from "node:fs/promises";
import { join } from "node:path";
import { isScoreName } from "#built/files/file-names.js";

/** One look at a folder. */
export interface FolderLook {
  /** What each score looks like, by name. While a file is written to, or replaced, its signature changes. */
  readonly signatures: ReadonlyMap<string, string>;
  /** Scores by name that are links or no plain files, and are left alone: they may stand for files elsewhere. */
  readonly leftAlone: readonly string[];
}

/**
 * Looks at the folder itself, never at single files: a program that saves by renaming puts another file in
 * the place of the old one. Links are not followed, and neither are folders in it.
 *
 * @throws the system's error where the folder is not there or not permitted
 */
export async function lookInto(folder: string): Promise<FolderLook> {
  const names = (await readdir(folder)).filter(isScoreName).toSorted();
  const signatures = new Map<string, string>();
  const leftAlone: string[] = [];
  for (const name of names) {
    // Gone since the names were listed: the next look will not list it.
    const facts = await lstat(join(folder, name), { bigint: true }).catch(() => undefined);
    if (facts === undefined || facts.isDirectory()) continue;
    if (facts.isFile()) signatures.set(name, signatureOf(facts));
    else leftAlone.push(name);
  }
  return { signatures, leftAlone };
}

/** What tells one state of a file from another: which file it is, its size, and when it was last written or changed. */
export const signatureOf = (facts: {
  readonly ino: bigint;
  readonly size: bigint;
  readonly mtimeNs: bigint;
  readonly ctimeNs: bigint;
}): string => [facts.ino, facts.size, facts.mtimeNs, facts.ctimeNs].join(" ");

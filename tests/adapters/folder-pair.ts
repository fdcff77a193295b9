import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { OPTIONS, type OptionName } from "../../src/options/options.js";

/** A folder for exports and one for guitar scores, or one for both. */
export interface FolderPair {
  readonly inFolder: string;
  readonly outFolder: string;
  remove(): void;
}

export function folderPair(isOneFolder = false): FolderPair {
  const inFolder = mkdtempSync(join(tmpdir(), "undervoice-in-"));
  const outFolder = isOneFolder ? inFolder : mkdtempSync(join(tmpdir(), "undervoice-out-"));
  return {
    inFolder,
    outFolder,
    remove: () => {
      for (const folder of [inFolder, outFolder]) rmSync(folder, { recursive: true, force: true });
    },
  };
}

export const bytesAt = (path: string): Uint8Array | undefined => {
  try {
    return new Uint8Array(readFileSync(path));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return undefined;
    throw error;
  }
};

export const notesFor = (name: string, folder: string): readonly string[] =>
  readdirSync(folder)
    .filter((file) => file.normalize("NFC").startsWith(name.normalize("NFC")) && file.endsWith(".note.txt"))
    .map((file) => readFileSync(join(folder, file), "utf8"));

/** What is neither one of the exports, nor a guitar score or a note of one. */
export function strayFiles(
  { inFolder, outFolder }: FolderPair,
  names: ReadonlySet<string>,
): readonly string[] {
  const expected = new Set(
    [...names].flatMap((name) => [name, name.replace(/\.\w+$/, "-guitar.musicxml"), `${name}.note.txt`]),
  );
  const all = [...readdirSync(inFolder), ...(inFolder === outFolder ? [] : readdirSync(outFolder))];
  return all.filter((file) => !expected.has(file));
}

/** Options as flags of the command line. */
export const flagsFor = (options: Readonly<Record<string, string | number | boolean>>): readonly string[] =>
  Object.entries(options).map(([name, value]) => {
    const flag = `--${name.replace(/[A-Z]/g, (capital) => `-${capital.toLowerCase()}`)}`;
    return OPTIONS[name as OptionName].type === "boolean" ? flag : `${flag}=${value}`;
  });

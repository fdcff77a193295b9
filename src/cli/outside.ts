import { access, readFile, realpath, rename, rm, stat, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { sweepLeftovers, temporaryName } from "../files/put-file.js";
import { troubleInWords } from "../files/trouble-in-words.js";
import { withClock } from "./still-working.js";

/** What a command needs from outside; by this one door, so that a test can hold it. */
export interface Outside {
  /** Bytes of a file, or of standard input where the path is "-". */
  read(path: string): Promise<Uint8Array>;
  isThere(path: string): Promise<boolean>;
  /** Whether that can be read to its end: a device may have none. */
  isFile(path: string): Promise<boolean>;
  /** Writes every file whole, or none of them. */
  write(files: readonly FileToWrite[]): Promise<void>;
  toStandardOutput(content: Uint8Array | string): void;
  toStandardError(text: string): void;
  /** Does some work; where somebody watches, and it takes long, they are told that it goes on. */
  duringWork<Answer>(saying: string, work: () => Answer): Answer;
}

export interface FileToWrite {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** Standard input as a source, standard output as a target. */
export const STANDARD_STREAM = "-";

/** A file could not be read or written; the message is for a person. */
export class FileTrouble extends Error {
  constructor(path: string, doing: string, cause: unknown) {
    super(`${path}: cannot be ${doing}: ${troubleInWords(cause, doing)}`, { cause });
    this.name = "FileTrouble";
  }
}

/** The computer the program runs on. */
export const computer: Outside = {
  async read(path) {
    try {
      return path === STANDARD_STREAM ? await standardInput() : await readFile(path);
    } catch (error) {
      throw new FileTrouble(path, "read", error);
    }
  },
  isThere: (path) =>
    access(path).then(
      () => true,
      () => false,
    ),
  isFile: (path) =>
    stat(path).then(
      (found) => found.isFile(),
      () => false,
    ),
  async write(files) {
    const staged: { readonly temporary: string; readonly target: string }[] = [];
    try {
      for (const file of files) {
        const target = await placeToReplace(file.path);
        if (target === undefined) {
          await written(file.path, file.path, file.bytes);
          continue;
        }
        const temporary = join(dirname(target), temporaryName());
        staged.push({ temporary, target });
        await written(file.path, temporary, file.bytes);
      }
      for (const { temporary, target } of staged) {
        await rename(temporary, target).catch((error) => {
          throw new FileTrouble(target, "written", error);
        });
      }
      for (const folder of new Set(staged.map(({ target }) => dirname(target)))) await sweepLeftovers(folder);
    } finally {
      for (const { temporary } of staged) await rm(temporary, { force: true });
    }
  },
  toStandardOutput: (content) => void process.stdout.write(content),
  toStandardError: (text) => void process.stderr.write(text),
  duringWork: (saying, work) => (process.stderr.isTTY ? withClock(saying, work) : work()),
};

/** Not read in one go: a pipe may have nothing yet. */
async function standardInput(): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of process.stdin) chunks.push(chunk);
  return Buffer.concat(chunks);
}

/** Where a finished file is moved to, links followed; undefined for a device or pipe, which is written straight. */
async function placeToReplace(path: string): Promise<string | undefined> {
  const found = await stat(path).catch(() => undefined);
  if (found === undefined) return path;
  if (found.isDirectory()) throw new FileTrouble(path, "written", { code: "EISDIR" });
  return found.isFile() ? await realpath(path) : undefined;
}

const written = (path: string, at: string, bytes: Uint8Array): Promise<void> =>
  writeFile(at, bytes).catch((error) => {
    throw new FileTrouble(path, "written", error);
  });

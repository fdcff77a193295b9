import { createHash } from "node:crypto";
import { join } from "node:path";
import { putFile } from "#built/files/put-file.js";
import { readPlainFile } from "./read-still-file.js";

/** What a guitar score was made from, and what it was when it was written. */
export interface WrittenScore {
  readonly input: string;
  /** Hashes of the input, of the options it was arranged with and of the guitar score. */
  readonly inputHash: string;
  readonly wishHash: string;
  readonly outputHash: string;
  /** What stood there before: still ours, where the program was ended before the guitar score was in its place. */
  readonly beforeHash?: string;
}

/** Hidden, so that it is in nobody's way; lost, it costs no more than arranging again. */
const RECORD_NAME = ".undervoice-written.json";

export const hashOf = (content: Uint8Array | string): string =>
  createHash("sha256").update(content).digest("hex");

/**
 * The record of what was written to a folder, kept in that folder. By it the same input is not arranged
 * twice, and a guitar score that somebody worked on is told from one that is as it was written.
 */
export class WrittenScores {
  readonly #folder: string;
  readonly #scores: Map<string, WrittenScore>;
  /** Records are written one after the other, so that the newest stays. */
  #lastWritten: Promise<void> = Promise.resolve();

  private constructor(folder: string, scores: Map<string, WrittenScore>) {
    this.#folder = folder;
    this.#scores = scores;
  }

  static async in(folder: string): Promise<WrittenScores> {
    const bytes = await readPlainFile(join(folder, RECORD_NAME)).catch(() => undefined);
    return new WrittenScores(folder, bytes === undefined ? new Map() : scoresIn(bytes));
  }

  of(output: string): WrittenScore | undefined {
    return this.#scores.get(output);
  }

  get all(): ReadonlyMap<string, WrittenScore> {
    return this.#scores;
  }

  /** @throws the system's error where the folder takes no file */
  async add(output: string, score: WrittenScore): Promise<void> {
    this.#scores.set(output, score);
    const written = this.#lastWritten.then(() => {
      const text = `${JSON.stringify(Object.fromEntries(this.#scores), undefined, 2)}\n`;
      return putFile(join(this.#folder, RECORD_NAME), new TextEncoder().encode(text));
    });
    this.#lastWritten = written.catch(() => undefined);
    await written;
  }
}

/** A record that cannot be read counts as none. */
function scoresIn(bytes: Uint8Array): Map<string, WrittenScore> {
  try {
    const value: unknown = JSON.parse(new TextDecoder().decode(bytes));
    if (typeof value !== "object" || value === null) return new Map();
    return new Map(Object.entries(value).filter((row): row is [string, WrittenScore] => isWritten(row[1])));
  } catch {
    return new Map();
  }
}

const isWritten = (value: unknown): value is WrittenScore =>
  typeof value === "object" &&
  value !== null &&
  ["input", "inputHash", "wishHash", "outputHash"].every(
    (field) => typeof (value as Readonly<Record<string, unknown>>)[field] === "string",
  );

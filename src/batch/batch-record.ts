import type { BatchRow } from "./batch-row.js";

/** What a batch noted of one score before it put the guitar score in its place. */
export interface BatchEntry {
  readonly output: string;
  readonly inputHash: string;
  /** Of the options, the layout of the file and the program's version. */
  readonly wishHash: string;
  /** Of the guitar score; absent where there is none. */
  readonly outputHash?: string;
  readonly row: BatchRow;
}

/**
 * What was written to an output folder so far, a line of JSON each. Lines are only added, so that a million scores
 * cost no more each than a few, and a program that is killed spoils its last line at most.
 */
export class BatchRecord {
  readonly #latest = new Map<string, BatchEntry>();
  readonly #ours = new Map<string, Set<string>>();

  constructor(texts: readonly string[]) {
    for (const line of texts.flatMap((text) => text.split("\n"))) {
      const entry = entryIn(line);
      if (entry !== undefined) this.add(entry);
    }
  }

  add(entry: BatchEntry): void {
    this.#latest.set(entry.output, entry);
    if (entry.outputHash === undefined) return;
    const hashes = this.#ours.get(entry.output) ?? new Set();
    this.#ours.set(entry.output, hashes.add(entry.outputHash));
  }

  of(output: string): BatchEntry | undefined {
    return this.#latest.get(output);
  }

  /** Whether a guitar score of this hash was written there by a batch. */
  isOurs(output: string, hash: string): boolean {
    return this.#ours.get(output)?.has(hash) === true;
  }
}

/** A line of its own, whatever was left of the one before. */
export const recordLine = (entry: BatchEntry): string => `\n${JSON.stringify(entry)}`;

function entryIn(line: string): BatchEntry | undefined {
  try {
    const value = JSON.parse(line) as Partial<BatchEntry> | null;
    const isEntry =
      typeof value?.output === "string" &&
      typeof value.inputHash === "string" &&
      typeof value.wishHash === "string" &&
      typeof value.row?.outcome === "string";
    return isEntry ? (value as BatchEntry) : undefined;
  } catch {
    return undefined;
  }
}

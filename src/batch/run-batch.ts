import { createHash } from "node:crypto";
import { posix } from "node:path";
import type { ArrangeOptions } from "../options/options.js";
import type { AnswerTo, ArrangeOrder } from "../work/order.js";
import { WorkStopped } from "../work/workers/work-stopped.js";
import type { BatchJob } from "./batch-jobs.js";
import { type BatchRecord, recordLine } from "./batch-record.js";
import { arrangedRow, type BatchRow, saidIn } from "./batch-row.js";

/** A lead sheet to be arranged, with the report that its row is made from. */
export type ReportedOrder = ArrangeOrder & { readonly kind: "arrange" };

/** What a batch needs from outside. Output paths are under the output folder. Every error carries words for a person. */
export interface BatchWorld {
  readInput(path: string): Promise<Uint8Array>;
  /** undefined where nothing is there. */
  readOutput(output: string): Promise<Uint8Array | undefined>;
  /** Whole or not at all, folders made where they are missing. */
  putOutput(output: string, bytes: Uint8Array): Promise<void>;
  addToRecord(line: string): Promise<void>;
  /** The lead sheet as seen from the output folder. */
  seenFromOutput(input: string): string;
  /** @throws WorkStopped */
  answer(order: ReportedOrder): Promise<AnswerTo<ReportedOrder>>;
}

export interface BatchSettings {
  readonly options: ArrangeOptions;
  readonly isCompressed: boolean;
  readonly program: string;
  /** Scores worked on at once. */
  readonly workers: number;
  /** What is done already is not done again. */
  readonly isResumed: boolean;
  /** Guitar scores that were not written by a batch, or were worked on since, are replaced all the same. */
  readonly mayReplace: boolean;
  readonly record: BatchRecord;
  onRow(row: BatchRow, isKept: boolean): void;
  /** Whether no further score is to be begun. */
  isTold(): boolean;
}

export interface BatchRun {
  readonly rows: readonly BatchRow[];
  /** Why no more could be written, where that ended the batch. */
  readonly cannotGoOn: Error | undefined;
}

/** Trouble with one guitar score that every further one would have as well. */
const ENDS_ALL = new Set(["ENOSPC", "EDQUOT", "EROFS"]);

/** Has every job done, several at a time; what goes wrong with one is its own matter. */
export async function runBatch(
  jobs: readonly BatchJob[],
  settings: BatchSettings,
  world: BatchWorld,
): Promise<BatchRun> {
  const { options, isCompressed, program, record } = settings;
  const wishHash = hashOf(JSON.stringify([program, options, isCompressed]));
  const rows: BatchRow[] = [];
  let next = 0;
  let cannotGoOn: Error | undefined;
  // One more than there are workers: it reads and writes while they work.
  await Promise.all(Array.from({ length: settings.workers + 1 }, oneAfterAnother));
  return { rows, cannotGoOn };

  async function oneAfterAnother(): Promise<void> {
    while (cannotGoOn === undefined && !settings.isTold()) {
      const job = jobs[next];
      if (job === undefined) return;
      next += 1;
      const { row, isKept } = await done(job);
      rows.push(row);
      settings.onRow(row, isKept);
    }
  }

  async function done(job: BatchJob): Promise<{ readonly row: BatchRow; readonly isKept: boolean }> {
    const known = record.of(job.output);
    try {
      const score = await world.readInput(job.input);
      const inputHash = hashOf(score);
      const there = await world.readOutput(job.output);
      const hashThere = there && hashOf(there);
      const isSame = known?.inputHash === inputHash && known.wishHash === wishHash;
      if (settings.isResumed && isSame && hashThere === known.outputHash) {
        const { sheet, score: place } = rowOf(job, "arranged");
        return { row: { ...known.row, input: job.input, sheet, score: place }, isKept: true };
      }
      if (hashThere !== undefined && !settings.mayReplace && !record.isOurs(job.output, hashThere))
        return { row: rowOf(job, "leftAlone", [NOT_OURS]), isKept: false };
      return { row: await arranged(job, score, inputHash), isKept: false };
    } catch (error) {
      return { row: inTrouble(job, error), isKept: false };
    }
  }

  async function arranged(job: BatchJob, score: Uint8Array, inputHash: string): Promise<BatchRow> {
    const answer = await world.answer({ kind: "arrange", score, options, isCompressed });
    const note = async (row: BatchRow, outputHash?: string) => {
      const entry = { output: job.output, inputHash, wishHash, row, ...(outputHash && { outputHash }) };
      record.add(entry);
      await world.addToRecord(recordLine(entry)).catch((error: Error) => {
        cannotGoOn = error;
        throw error;
      });
      return row;
    };
    if (answer.kind === "refused") return note({ ...rowOf(job, "refused"), ...saidIn(answer.findings) });
    const row = {
      ...rowOf(job, "arranged"),
      arranged: arrangedRow(answer.report),
      ...saidIn(answer.report.findings),
    };
    // The record goes first: whoever is ended between the two knows the guitar score for ours afterwards.
    await note(row, hashOf(answer.score));
    await world.putOutput(job.output, answer.score);
    return row;
  }

  function inTrouble(job: BatchJob, error: unknown): BatchRow {
    if (error instanceof WorkStopped) return { ...rowOf(job, "stopped"), ...saidIn([error.finding]) };
    const { message, cause, code } = error as NodeJS.ErrnoException;
    if (ENDS_ALL.has(code ?? (cause as NodeJS.ErrnoException | undefined)?.code ?? ""))
      cannotGoOn = error as Error;
    const path = `${job.input}: `;
    return rowOf(job, "trouble", [message.startsWith(path) ? message.slice(path.length) : message]);
  }

  function rowOf({ input, output }: BatchJob, outcome: BatchRow["outcome"], says: readonly string[] = []) {
    return {
      input,
      sheet: world.seenFromOutput(input),
      score: posix.normalize(output),
      outcome,
      warnings: 0,
      says,
    };
  }
}

const NOT_OURS =
  "A guitar score is there already that was not written by a batch, or that somebody has worked on since; it was left as it is.";

export const hashOf = (content: Uint8Array | string): string =>
  createHash("sha256").update(content).digest("hex");

import { availableParallelism } from "node:os";
import { join } from "node:path";
import { batchJobs, type Collision } from "../../batch/batch-jobs.js";
import { BatchRecord } from "../../batch/batch-record.js";
import { type BatchSummary, batchSummary, mergedSummary } from "../../batch/batch-summary.js";
import { runBatch } from "../../batch/run-batch.js";
import { type Shard, shardFrom, shareOf } from "../../batch/shard.js";
import { batchPage } from "../../batch/summary-page.js";
import { batchLines } from "../../batch/summary-text.js";
import { fitsBatchSummary } from "../../json/validators.js";
import { completeOptions, OptionsError } from "../../options/option-checking.js";
import { VERSION } from "../../version.js";
import { openWorkerPool } from "../../work/workers/worker-pool.js";
import type { Outcome } from "../exit-codes.js";
import { type ParsedLine, UsageError } from "../flags.js";
import { FileTrouble, type Outside, STANDARD_STREAM } from "../outside.js";
import { toldToEnd } from "../told-to-end.js";
import { batchFiles, openOutput, scoresIn } from "./batch-files.js";
import { batchProgress } from "./batch-progress.js";
import { refusalText } from "./refusal-text.js";

export async function runBatchAsTold(line: ParsedLine, outside: Outside): Promise<Outcome> {
  const { flags, words } = line;
  if (typeof flags.output !== "string")
    throw new UsageError("batch needs a folder for what it writes: name it with --output");
  if (words.length === 0) throw new UsageError("batch takes a folder, scores, or - for a list of them");
  try {
    if (flags["merge-summaries"] === true) return await mergeSummaries(words, flags.output, outside);
    return await arrangeShelf(line, flags.output, outside);
  } catch (error) {
    if (!(error instanceof OptionsError)) throw error;
    outside.toStandardError(refusalText(error.findings));
    return "wronglyAsked";
  }
}

async function arrangeShelf(
  { flags, options: given, words }: ParsedLine,
  outFolder: string,
  outside: Outside,
): Promise<Outcome> {
  const options = completeOptions(given);
  const workers = wholeNumber(flags.jobs, "--jobs", 1, 256) ?? availableParallelism();
  const seconds = wholeNumber(flags["time-limit"], "--time-limit", 1, 86_400) ?? 60;
  const mebibytes = wholeNumber(flags["memory-limit"], "--memory-limit", 64, 65_536) ?? 1024;
  const shard = shardIn(flags.shard);
  const scores = await scoresIn(await listed(words, outside), outFolder);
  const { jobs, collisions } = batchJobs(scores, flags.compressed === true);
  if (collisions.length > 0) throw new UsageError(collisionText(collisions));
  if (jobs.length === 0) throw new UsageError("there is no score in what was named");
  const own = shard === undefined ? jobs : shareOf(jobs, shard);
  const part = shard === undefined ? "" : `-${shard.index}-of-${shard.count}`;
  const record = new BatchRecord(await openOutput(outFolder));

  let isTold = false;
  void toldToEnd().then(() => {
    isTold = true;
    outside.toStandardError("\nThe scores in hand are finished; once more (Ctrl+C) ends at once.\n");
  });
  const begun = performance.now();
  const progress = batchProgress(own.length, {
    isTerminal: process.stderr.isTTY === true,
    now: () => performance.now(),
    say: (text) => outside.toStandardError(text),
  });
  const pool = openWorkerPool({ workers, workMs: seconds * 1000, workerMemoryMb: mebibytes });
  const { rows, cannotGoOn } = await runBatch(
    own,
    {
      options,
      isCompressed: flags.compressed === true,
      program: VERSION,
      workers,
      isResumed: flags.resume === true,
      mayReplace: flags.replace === true,
      record,
      onRow: progress.onRow,
      isTold: () => isTold,
    },
    { ...batchFiles(outFolder, `.batch-record${part}.jsonl`), answer: (order) => pool.answer(order) },
  );
  pool.close();
  progress.end();
  const summary = batchSummary(rows, {
    program: VERSION,
    options,
    notBegun: own.length - rows.length,
    seconds: Math.round((performance.now() - begun) / 100) / 10,
  });
  if (cannotGoOn !== undefined) {
    outside.toStandardOutput(textOf(batchLines(summary)));
    throw cannotGoOn instanceof FileTrouble ? cannotGoOn : new FileTrouble(outFolder, "written", cannotGoOn);
  }
  await writeSummary(summary, join(outFolder, `batch-summary${part}`), outside);
  if (isTold) return "interrupted";
  return summary.counts.arranged === summary.counts.scores ? "done" : "someNotArranged";
}

async function mergeSummaries(
  files: readonly string[],
  outFolder: string,
  outside: Outside,
): Promise<Outcome> {
  const summaries: BatchSummary[] = [];
  for (const file of files) {
    const summary = jsonIn(new TextDecoder().decode(await outside.read(file)));
    if (!fitsBatchSummary(summary)) throw new UsageError(`${file} is no summary of a batch`);
    summaries.push(summary as unknown as BatchSummary);
  }
  const [first, ...others] = summaries;
  if (first === undefined) throw new UsageError("no summary is named");
  const isLike = ({ options, program }: BatchSummary) =>
    program === first.program && JSON.stringify(options) === JSON.stringify(first.options);
  const other = others.findIndex((summary) => !isLike(summary));
  if (other >= 0)
    throw new UsageError(
      `${files[other + 1]} is of other options or another version than ${files[0]}, and they are no one batch`,
    );
  await openOutput(outFolder);
  await writeSummary(mergedSummary([first, ...others]), join(outFolder, "batch-summary"), outside);
  return "done";
}

async function writeSummary(summary: BatchSummary, path: string, outside: Outside): Promise<void> {
  const encoder = new TextEncoder();
  await outside.write([
    { path: `${path}.json`, bytes: encoder.encode(`${JSON.stringify(summary, undefined, 1)}\n`) },
    { path: `${path}.html`, bytes: encoder.encode(batchPage(summary)) },
  ]);
  outside.toStandardOutput(textOf([...batchLines(summary), `Written: ${path}.html and .json`]));
}

/** The words, and in place of "-" what standard input lists. */
async function listed(words: readonly string[], outside: Outside): Promise<readonly string[]> {
  if (!words.includes(STANDARD_STREAM)) return words;
  const list = new TextDecoder().decode(await outside.read(STANDARD_STREAM));
  const names = list.split(/\r?\n/).filter((name) => name !== "");
  return words.flatMap((word) => (word === STANDARD_STREAM ? names : [word]));
}

function shardIn(text: unknown): Shard | undefined {
  if (text === undefined) return undefined;
  const shard = shardFrom(String(text));
  if (shard === undefined)
    throw new UsageError(`--shard takes one of at most 1000 shares, such as 3/8, not "${text}"`);
  return shard;
}

function wholeNumber(text: unknown, flag: string, least: number, most: number): number | undefined {
  if (text === undefined) return undefined;
  const number = Number(text);
  if (Number.isInteger(number) && number >= least && number <= most && text !== "") return number;
  throw new UsageError(`${flag} takes a whole number from ${least} to ${most}, not "${text}"`);
}

const collisionText = (collisions: readonly Collision[]): string =>
  [
    "several lead sheets would become one guitar score; give them other names, or do them apart:",
    ...collisions.map(({ inputs, output }) => `  ${inputs.join(", ")}: ${output}`),
  ].join("\n");

function jsonIn(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

const textOf = (lines: readonly string[]): string => lines.map((line) => `${line}\n`).join("");

import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { readScoreText } from "undervoice";
import type { AnswerTo, Order } from "#built/work/order.js";
import { openWorkerPool } from "#built/work/workers/worker-pool.js";
import { pick, randomFrom } from "./fuzz/mutations.js";
import { type Outcome, type Trial, trialsIn } from "./fuzz/trials.js";
import { scoreNames } from "./lead-sheets.js";

/**
 * Spoils scores, scores that came back, wishes and manifests: whatever comes in, a score comes out that our own check
 * finds nothing wrong with and that comes back as it was, or one error that says why not, and no order takes a processor
 * longer than it may. What does otherwise is kept and printed; so are the worker's memory, early and at the end, and the
 * longest that an order took.
 */
const { values } = parseArgs({
  options: {
    minutes: { type: "string", default: "1" },
    seed: { type: "string", default: String(Date.now() % 1_000_000) },
    keep: { type: "string", default: join(tmpdir(), "undervoice-fuzz") },
  },
});
const FOLDERS = [
  "sample-scores",
  "tests/faults",
  "../shared/corpus/lead-sheets",
  "../shared/corpus/notation-suite",
];
/** Larger scores take longer by right. */
const ORDINARY_SIGNS = 300_000;
/** Seconds of a processor for one order: for a score to arrange, or to check. */
const WORK_SECONDS = 5;
/** The same where the best key is asked for: a tune is then arranged in some twenty keys and octaves. */
const BEST_KEY_SECONDS = 12;
/** Wall time, for what never ends: on a machine that others use too it says nothing of the work. */
const WORK_MS = 120_000;
/** After so many trials the worker has all it keeps from tune to tune; what it grows by later is growth. */
const WARM_AFTER = 100;

const random = randomFrom(Number(values.seed));
const texts = FOLDERS.flatMap(scoresIn);
const pool = openWorkerPool({ workers: 1, workMs: WORK_MS, workerMemoryMb: 1024 });
/** Seconds of a processor that an order took at most, those for the best key apart. */
const longest = { plain: 0, bestKey: 0 };
const makers = trialsIn({ ...pool, answer: timedAnswer }).flatMap(([often, make]) =>
  Array.from({ length: often }, () => make),
);
/** Said of the trial that is made, where an order of it took longer than it may. */
let tooLong: string | undefined;
const counts = { arranged: 0, refused: 0, faults: 0 };
const until = performance.now() + Number(values.minutes) * 60_000;
mkdirSync(values.keep, { recursive: true });
console.log(`${texts.length} scores, seed ${values.seed}`);

let warm: string | undefined;
for (let tried = 0; performance.now() < until; tried += 1) {
  if (tried === WARM_AFTER) warm = workersMemory();
  const { trial, fault } = await tryOne();
  if (fault === undefined) continue;
  counts.faults += 1;
  const path = join(values.keep, `${values.seed}-${counts.faults}`);
  trial?.texts.forEach((text, index) => {
    writeFileSync(`${path}${index === 0 ? "" : `-${index + 1}`}.txt`, text);
  });
  console.log(`${path} ${trial?.name}\n  ${fault}`);
}
console.log(
  `the longest order took a processor ${longest.plain.toFixed(1)} s, for the best key ${longest.bestKey.toFixed(1)} s`,
);
console.log(`memory of the worker after ${WARM_AFTER} trials: ${warm}; at the end: ${workersMemory()}`);
pool.close();
console.log(`${counts.arranged} arranged, ${counts.refused} refused, ${counts.faults} faults`);
process.exitCode = counts.faults === 0 ? 0 : 1;

async function tryOne(): Promise<{ trial?: Trial; fault?: string }> {
  let trial: Trial | undefined;
  try {
    tooLong = undefined;
    trial = await pick(makers, random)(texts, random);
    const { kind, fault = tooLong }: Outcome = await trial.outcome();
    counts[kind] += 1;
    return fault === undefined ? {} : { trial, fault };
  } catch (error) {
    const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
    return { ...(trial === undefined ? {} : { trial }), fault: text.split("\n").slice(0, 3).join(" | ") };
  }
}

async function timedAnswer<Asked extends Order>(order: Asked): Promise<AnswerTo<Asked>> {
  const before = workersSeconds();
  try {
    return await pool.answer(order);
  } finally {
    // A worker that is new since then was not there before.
    const seconds = Math.max(0, workersSeconds() - before);
    const kind = order.kind === "scoreOnly" && order.options.key === "best" ? "bestKey" : "plain";
    longest[kind] = Math.max(longest[kind], seconds);
    if (seconds > (kind === "plain" ? WORK_SECONDS : BEST_KEY_SECONDS))
      tooLong = `an order took a processor ${seconds.toFixed(1)} s`;
  }
}

/** What the system tells of each worker; nothing where it does not. */
function ofWorkers(file: string): readonly string[] {
  try {
    const children = readFileSync(`/proc/${process.pid}/task/${process.pid}/children`, "utf8");
    return (children.match(/\d+/g) ?? []).map((child) => readFileSync(`/proc/${child}/${file}`, "utf8"));
  } catch {
    return [];
  }
}

/** Seconds of a processor that the workers have had, by its clock of a hundred ticks a second; 0 where not known. */
function workersSeconds(): number {
  // In `stat` the name may hold anything; user and system time are the 12th and 13th number after it.
  const times = ofWorkers("stat").map((stat) => stat.slice(stat.lastIndexOf(")") + 2).split(" "));
  return times.reduce((sum, fields) => sum + (Number(fields[11]) + Number(fields[12])) / 100, 0);
}

/** What the workers have in memory. */
function workersMemory(): string {
  const sizes = ofWorkers("status").map((status) => /VmRSS:\s+(\d+) kB/.exec(status)?.[1]);
  return sizes.map((size) => `${Math.round(Number(size) / 1024)} MB`).join(", ") || "not known here";
}

function scoresIn(folder: string): readonly string[] {
  let names: readonly string[];
  try {
    names = scoreNames(folder);
  } catch {
    return [];
  }
  return names.flatMap((name) => {
    try {
      const { text } = readScoreText(readFileSync(join(folder, name)));
      return text.length > ORDINARY_SIGNS ? [] : [text];
    } catch {
      return [];
    }
  });
}

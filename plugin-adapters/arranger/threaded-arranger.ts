import { availableParallelism } from "node:os";
import PQueue from "p-queue";
import { Piscina } from "piscina";
import type { ArrangeJob, ArrangeResult, Arranger } from "./arranger.js";

export interface ArrangerLimits {
  readonly threads: number;
  /** Work on one score, in milliseconds; its thread is ended then. */
  readonly workMs: number;
  /** Heap of one thread, in MiB. */
  readonly threadMemoryMb: number;
}

/** Nobody waits at a service's door here, so a large score gets its time. */
const USUAL_LIMITS: ArrangerLimits = {
  threads: Math.min(4, availableParallelism()),
  workMs: 300_000,
  threadMemoryMb: 2_048,
};

/**
 * Arranges in threads of their own, so that the program goes on watching and can be interrupted, and so that
 * one score that never comes to an end does not hold up the others.
 */
export function threadedArranger(
  limits = USUAL_LIMITS,
  workerFile = new URL("./arrange-job.js", import.meta.url),
): Arranger {
  const pool = new Piscina<ArrangeJob, ArrangeResult>({
    filename: workerFile.href,
    minThreads: 0,
    maxThreads: limits.threads,
    resourceLimits: { maxOldGenerationSizeMb: limits.threadMemoryMb },
  });
  // The pool could queue too, but a score's time is to count from the moment a thread has it.
  const queue = new PQueue({ concurrency: limits.threads });
  return {
    arrange: (job) => queue.add(() => withinLimits(job)),
    close: () => pool.destroy(),
  };

  async function withinLimits(job: ArrangeJob): Promise<ArrangeResult> {
    const signal = AbortSignal.timeout(limits.workMs);
    try {
      return await pool.run(job, { signal });
    } catch (error) {
      if (signal.aborted) return takesTooLong(limits.workMs / 1000);
      if ((error as NodeJS.ErrnoException).code === "ERR_WORKER_OUT_OF_MEMORY")
        return takesTooMuch(limits.threadMemoryMb);
      throw error;
    }
  }
}

const takesTooLong = (seconds: number): ArrangeResult =>
  refused("work-too-long", `work of more than ${seconds} seconds`, `at most ${seconds} seconds`);

const takesTooMuch = (mebibytes: number): ArrangeResult =>
  refused("work-too-heavy", `more than ${mebibytes} MiB of memory`, `at most ${mebibytes} MiB`);

const refused = (rule: string, found: string, expected: string): ArrangeResult => ({
  kind: "refused",
  findings: [
    {
      rule,
      severity: "error",
      place: {},
      found,
      expected,
      message: `The score takes ${found}.`,
      hint: "Divide the score.",
    },
  ],
});

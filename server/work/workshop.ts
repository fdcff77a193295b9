import PQueue from "p-queue";
import { Piscina } from "piscina";
import type { ServiceLimits } from "../limits.js";
import { type Refusal, refusal } from "../refusal.js";
import type { WorkOrder, WorkResult } from "./work-order.js";

/** Threads that work on scores, and the queue before them. */
export interface Workshop {
  readonly working: number;
  readonly waiting: number;
  /**
   * Has the order done as soon as a thread is free. Once `gone` is aborted nothing more is done for it.
   *
   * @throws Refusal 503 where too many wait already or the work takes too long, 413 where it takes too much
   */
  run(order: WorkOrder, gone: AbortSignal): Promise<WorkResult>;
  close(): Promise<void>;
}

/** `workerFile` is the URL of a module whose default export does an order. */
export function openWorkshop(
  limits: ServiceLimits,
  workerFile = new URL("./score-worker.js", import.meta.url),
): Workshop {
  const pool = new Piscina<WorkOrder, WorkResult>({
    filename: workerFile.href,
    minThreads: limits.threads,
    maxThreads: limits.threads,
    resourceLimits: { maxOldGenerationSizeMb: limits.threadMemoryMb },
  });
  const queue = new PQueue({ concurrency: limits.threads });
  return {
    get working() {
      return queue.pending;
    },
    get waiting() {
      return queue.size;
    },
    async run(order, gone) {
      if (queue.size >= limits.waiting) throw tooManyWaiting(limits);
      return queue.add(() => withinLimits(order, gone), { signal: gone });
    },
    close: () => pool.destroy(),
  };

  /** Stopping an order ends its thread, whatever the thread is doing; the pool starts another. */
  async function withinLimits(order: WorkOrder, gone: AbortSignal): Promise<WorkResult> {
    const stop = new AbortController();
    let isTimeUp = false;
    const timer = setTimeout(() => {
      isTimeUp = true;
      stop.abort();
    }, limits.workMs);
    const onGone = () => stop.abort();
    gone.addEventListener("abort", onGone);
    try {
      return await pool.run(order, { signal: stop.signal });
    } catch (error) {
      if (isTimeUp) throw timeIsUp(limits);
      if ((error as NodeJS.ErrnoException).code === "ERR_WORKER_OUT_OF_MEMORY") throw tooHeavy(limits);
      throw error;
    } finally {
      clearTimeout(timer);
      gone.removeEventListener("abort", onGone);
    }
  }
}

const later = ({ retryAfterSeconds }: ServiceLimits) => ({ "Retry-After": String(retryAfterSeconds) });

const tooManyWaiting = (limits: ServiceLimits): Refusal =>
  refusal(
    503,
    {
      rule: "service-busy",
      found: `${limits.waiting} scores that wait already`,
      expected: "fewer at once",
      message: `${limits.waiting} scores wait already; no more are taken.`,
      hint: `Try again in ${limits.retryAfterSeconds} seconds.`,
    },
    later(limits),
  );

const timeIsUp = (limits: ServiceLimits): Refusal =>
  refusal(
    503,
    {
      rule: "work-too-long",
      found: `work of more than ${limits.workMs / 1000} seconds`,
      expected: `at most ${limits.workMs / 1000} seconds`,
      message: `The score was not done in ${limits.workMs / 1000} seconds.`,
      hint: "Divide the score, or arrange it on the command line, where there is no such limit.",
    },
    later(limits),
  );

const tooHeavy = (limits: ServiceLimits): Refusal =>
  refusal(413, {
    rule: "work-too-heavy",
    found: `work that takes more than ${limits.threadMemoryMb} MiB`,
    expected: `at most ${limits.threadMemoryMb} MiB`,
    message: `The score takes more than ${limits.threadMemoryMb} MiB of memory to work on.`,
    hint: "Divide the score.",
  });

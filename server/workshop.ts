import type { AnswerTo, Order } from "undervoice";
import { WorkStopped } from "#built/work/workers/work-stopped.js";
import { openWorkerPool } from "#built/work/workers/worker-pool.js";
import type { ServiceLimits } from "./limits.js";
import { type Refusal, refusal } from "./refusal.js";

/** Workers that do orders, and the queue before them. */
export interface Workshop {
  readonly working: number;
  readonly waiting: number;
  /**
   * Has the order done as soon as a worker is free. Once `gone` is aborted nothing more is done for it.
   *
   * @throws Refusal 503 where too many wait already or the work takes too long, 413 where it takes too much
   */
  answer<Asked extends Order>(order: Asked, gone: AbortSignal): Promise<AnswerTo<Asked>>;
  close(): void;
}

/** @param workerFile what the workers run, in place of the usual */
export function openWorkshop(limits: ServiceLimits, workerFile?: string): Workshop {
  const pool = openWorkerPool({ ...limits, isReady: true }, workerFile);
  return {
    get working() {
      return pool.working;
    },
    get waiting() {
      return pool.waiting;
    },
    async answer(order, gone) {
      if (pool.waiting >= limits.waiting) throw tooManyWaiting(limits);
      try {
        return await pool.answer(order, gone);
      } catch (error) {
        throw error instanceof WorkStopped ? refusalFor(error, limits) : error;
      }
    },
    close: () => pool.close(),
  };
}

const refusalFor = ({ reason }: WorkStopped, limits: ServiceLimits): Refusal =>
  reason === "time" ? timeIsUp(limits) : tooHeavy(limits);

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
    found: `work that takes more than ${limits.workerMemoryMb} MiB`,
    expected: `at most ${limits.workerMemoryMb} MiB`,
    message: `The score takes more than ${limits.workerMemoryMb} MiB of memory to work on.`,
    hint: "Divide the score.",
  });

import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import PQueue from "p-queue";
import type { AnswerTo, Order } from "../order.js";
import { WorkerProcess, type WorkLimits } from "./worker-process.js";

export interface PoolLimits extends WorkLimits {
  /** Orders worked on at once, a worker each. */
  readonly workers: number;
  /** Whether workers stand ready before there is an order, and not only once there was one. */
  readonly isReady?: boolean;
}

/** Workers, and the queue before them. */
export interface WorkerPool {
  /** Orders that a worker has. */
  readonly working: number;
  /** Orders that wait for one. */
  readonly waiting: number;
  /**
   * Has the order done as soon as a worker is free. Once `gone` is aborted nothing more is done for it.
   *
   * @throws WorkStopped where the work takes too long or too much; AbortError, or the signal's reason, once gone
   */
  answer<Asked extends Order>(order: Asked, gone?: AbortSignal): Promise<AnswerTo<Asked>>;
  /** Ends every worker, whatever it is doing. */
  close(): void;
}

const USUAL_WORKER_FILE = fileURLToPath(new URL("./worker.js", import.meta.url));

/** As many as there are processors, but not more than memory bears on a large machine. */
export const USUAL_WORKERS = Math.min(4, availableParallelism());

/**
 * Has orders done in processes of their own, so that the program goes on listening meanwhile. One that takes too
 * long, takes too much or dies is replaced, and the others' work goes on.
 *
 * @param workerFile module that calls `answerMessages`
 */
export function openWorkerPool(limits: PoolLimits, workerFile = USUAL_WORKER_FILE): WorkerPool {
  const queue = new PQueue({ concurrency: limits.workers });
  const all = new Set<WorkerProcess>();
  const idle: WorkerProcess[] = [];
  let isOpen = true;
  keepReady();
  return {
    get working() {
      return queue.pending;
    },
    get waiting() {
      return queue.size;
    },
    answer: <Asked extends Order>(order: Asked, gone?: AbortSignal) =>
      queue.add(() => answered(order, gone), gone === undefined ? {} : { signal: gone }) as Promise<
        AnswerTo<Asked>
      >,
    close() {
      isOpen = false;
      for (const worker of all) worker.end();
    },
  };

  async function answered(order: Order, gone: AbortSignal | undefined): Promise<AnswerTo<Order>> {
    if (!isOpen) throw new Error("the workers were ended");
    const worker = idle.pop() ?? newWorker();
    try {
      return await worker.answer(order, gone);
    } finally {
      if (!worker.isGone) idle.push(worker);
      keepReady();
    }
  }

  function newWorker(): WorkerProcess {
    const worker = new WorkerProcess(workerFile, limits, () => {
      all.delete(worker);
      const at = idle.indexOf(worker);
      if (at >= 0) idle.splice(at, 1);
    });
    all.add(worker);
    return worker;
  }

  function keepReady(): void {
    if (limits.isReady !== true) return;
    while (isOpen && all.size < limits.workers) idle.push(newWorker());
  }
}

import type { ArrangeOptions } from "undervoice";
import { WorkStopped } from "#built/work/workers/work-stopped.js";
import { openWorkerPool, USUAL_WORKERS } from "#built/work/workers/worker-pool.js";
import { linesOf } from "./watch-event.js";
import { watchFolder } from "./watch-folder.js";

/** What the command line asks for. */
export interface WatchWish {
  readonly inFolder: string;
  readonly outFolder: string;
  readonly options: ArrangeOptions;
  readonly isCompressed: boolean;
  readonly keepsOwnMark: boolean;
  /** How long a file looks the same before it is read, in milliseconds; undefined for the usual. */
  readonly stillMs: number | undefined;
  say(line: string): void;
}

/** Nobody waits at a service's door here, so a large score gets its time. */
const LIMITS = { workers: USUAL_WORKERS, workMs: 300_000, workerMemoryMb: 2_048 };

/**
 * Watches with workers to arrange in, so that it goes on and can be interrupted meanwhile, and lines for a terminal.
 *
 * @throws the system's error where a folder is not there at the start or not permitted
 */
export async function startWatching({
  stillMs,
  say,
  ...wish
}: WatchWish): Promise<{ close(): Promise<void> }> {
  const pool = openWorkerPool(LIMITS);
  try {
    const watched = await watchFolder({
      ...wish,
      arrange: (order) =>
        pool.answer(order).catch((error: unknown) => {
          if (error instanceof WorkStopped) return error.refused;
          throw error;
        }),
      ...(stillMs === undefined ? {} : { pace: { stillMs } }),
      onEvent: (event) => {
        for (const line of linesOf(event)) say(line);
      },
    });
    return {
      close: async () => {
        await watched.close();
        pool.close();
      },
    };
  } catch (error) {
    pool.close();
    throw error;
  }
}

import type { ArrangeOptions } from "undervoice";
import { threadedArranger } from "../arranger/threaded-arranger.js";
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

/**
 * Watches with threads to arrange in and lines for a terminal.
 *
 * @throws the system's error where a folder is not there at the start or not permitted
 */
export async function startWatching({
  stillMs,
  say,
  ...wish
}: WatchWish): Promise<{ close(): Promise<void> }> {
  const arranger = threadedArranger();
  try {
    const watched = await watchFolder({
      ...wish,
      arranger,
      ...(stillMs === undefined ? {} : { pace: { stillMs } }),
      onEvent: (event) => {
        for (const line of linesOf(event)) say(line);
      },
    });
    return {
      close: async () => {
        await watched.close();
        await arranger.close();
      },
    };
  } catch (error) {
    await arranger.close();
    throw error;
  }
}

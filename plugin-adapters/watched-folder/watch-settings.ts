import type { ArrangeOptions, ArrangeOrder, Refused, ScoreDone } from "undervoice";
import type { WatchEvent } from "./watch-event.js";

/** A folder pair and how it is watched. Times in milliseconds. */
export interface WatchSettings {
  /** Where scores are exported to. */
  readonly inFolder: string;
  /** Where guitar scores and notes go; it may be the same folder. It is made where there is none. */
  readonly outFolder: string;
  readonly options: ArrangeOptions;
  /** Whether guitar scores are to be compressed (.mxl). */
  readonly isCompressed: boolean;
  /** Whether the notation program writes out again that a score came from here. If not, names alone tell. */
  readonly keepsOwnMark: boolean;
  readonly pace?: Partial<WatchPace>;
  /** Has a score arranged, in a process of its own or at once. */
  arrange(order: ArrangeOrder): Promise<ScoreDone | Refused>;
  /** Hears of everything that happens. */
  onEvent(event: WatchEvent): void;
}

export interface WatchPace {
  /** How long a file looks the same before it is read. */
  readonly stillMs: number;
  /** From one look to the next while a file is not still. */
  readonly quickLookMs: number;
  /** From one look to the next otherwise; for folders whose changes the system does not tell of, as over a network. */
  readonly slowLookMs: number;
  /** How often a score that looks cut off is read again before it is given up, and how long after. */
  readonly readings: number;
  readonly readAgainMs: number;
  /** How long after trouble with a folder or file it is tried again. */
  readonly troubleMs: number;
}

export const USUAL_PACE: WatchPace = {
  stillMs: 750,
  quickLookMs: 150,
  slowLookMs: 2_000,
  readings: 3,
  readAgainMs: 1_500,
  troubleMs: 10_000,
};

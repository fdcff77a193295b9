import type { ArrangeOptions } from "../options/options.js";
import type { BatchRow } from "./batch-row.js";
import { type EyeNeeded, needAnEye } from "./needs-an-eye.js";

/** What a batch came to: what its JSON holds, and its page and its text are made from. */
export interface BatchSummary {
  /** Raised whenever a reader of an older one would be misled. */
  readonly format: 1;
  readonly program: string;
  readonly options: ArrangeOptions;
  readonly counts: BatchCounts;
  /** Scores that were not begun because the batch was interrupted. */
  readonly notBegun: number;
  /** What was working on it, in seconds; of several batches together their sum. */
  readonly seconds: number;
  /** The twenty at most that need an eye, first things first. */
  readonly needAnEye: readonly EyeNeeded[];
  /** By input. */
  readonly rows: readonly BatchRow[];
}

export type BatchCounts = Readonly<Record<BatchRow["outcome"], number>> & { readonly scores: number };

export function batchSummary(
  rows: readonly BatchRow[],
  about: Pick<BatchSummary, "program" | "options" | "notBegun" | "seconds">,
): BatchSummary {
  const inOrder = rows.toSorted((a, b) => (a.input < b.input ? -1 : a.input > b.input ? 1 : 0));
  const count = (outcome: BatchRow["outcome"]) => rows.filter((row) => row.outcome === outcome).length;
  return {
    format: 1,
    ...about,
    counts: {
      scores: rows.length,
      arranged: count("arranged"),
      refused: count("refused"),
      stopped: count("stopped"),
      trouble: count("trouble"),
      leftAlone: count("leftAlone"),
    },
    needAnEye: needAnEye(inOrder, about.options.texture),
    rows: inOrder,
  };
}

/** Several summaries as one. Of a score that stands in several the last counts. */
export function mergedSummary(summaries: readonly [BatchSummary, ...BatchSummary[]]): BatchSummary {
  const rows = new Map(summaries.flatMap((summary) => summary.rows.map((row) => [row.input, row] as const)));
  const sum = (numberIn: (one: BatchSummary) => number) =>
    summaries.reduce((total, one) => total + numberIn(one), 0);
  const [{ program, options }] = summaries;
  return batchSummary([...rows.values()], {
    program,
    options,
    notBegun: sum(({ notBegun }) => notBegun),
    seconds: Math.round(sum(({ seconds }) => seconds) * 10) / 10,
  });
}

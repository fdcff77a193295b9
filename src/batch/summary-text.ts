import { oneLine } from "../one-line.js";
import type { BatchSummary } from "./batch-summary.js";

/** A summary as lines for a terminal: the counts, then what needs an eye. */
export function batchLines({ counts, notBegun, seconds, needAnEye }: BatchSummary): readonly string[] {
  const parts = [
    [counts.arranged, "arranged"],
    [counts.refused, "refused"],
    [counts.stopped, "given up"],
    [counts.trouble, "in trouble"],
    [counts.leftAlone, "left alone"],
    [notBegun, "not begun"],
  ] as const;
  const said = parts.filter(([count], index) => count > 0 || index === 0);
  return [
    `Scores: ${counts.scores + notBegun}: ${said.map(([count, what]) => `${count} ${what}`).join(", ")}`,
    `Time: ${Math.round(seconds)} s`,
    ...(needAnEye.length === 0 ? [] : ["", "These need an eye first:"]),
    ...needAnEye.map(({ input, reasons }) => oneLine(`  ${input}: ${reasons.join("; ")}`)),
  ];
}

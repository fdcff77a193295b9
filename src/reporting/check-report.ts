import type { CheckedScore } from "../checking/check-score.js";
import type { CheckSummary } from "../checking/check-summary.js";
import type { Finding } from "../diagnostics.js";
import { momentText } from "./summary.js";

/** What a check has to say, as JSON has it; described by `CHECK_SCHEMA`. */
export interface CheckReport {
  readonly title?: string;
  readonly summary: CheckSummary;
  readonly findings: readonly Finding[];
}

export const checkReport = ({ score, summary, findings }: CheckedScore): CheckReport => ({
  ...(score.title === undefined ? {} : { title: score.title }),
  summary,
  findings,
});

/** The figures of a check in a few lines. */
export function checkSummaryLines({ title, summary }: CheckReport): readonly string[] {
  const { widestReach, fastestMove, guideTones, errors, warnings, notes } = summary;
  return [
    ...(title === undefined ? [] : [title]),
    `Read as: ${LAYOUT_TEXTS[summary.layout]}`,
    `Attacks: ${summary.attacks}, of them in grips of two strings or more: ${summary.grips} moments`,
    ...(widestReach === undefined
      ? []
      : [`Widest reach: ${widestReach.reachMm.toFixed(0)} mm, ${momentText(widestReach)}`]),
    ...(fastestMove === undefined
      ? []
      : [
          `Fastest move: ${fastestMove.moveMm.toFixed(0)} mm in ${fastestMove.secondsAvailable.toFixed(2)} s (${fastestMove.mmPerSecond.toFixed(0)} mm/s), ${momentText(fastestMove.from)} to ${momentText(fastestMove.to)}`,
        ]),
    ...(guideTones.grips === 0
      ? []
      : [`Grips with their guide tones: ${guideTones.complete} of ${guideTones.grips}`]),
    `Errors: ${errors}, warnings: ${warnings}, notes: ${notes}`,
  ];
}

const LAYOUT_TEXTS: Readonly<Record<CheckSummary["layout"], string>> = {
  parts: "notation and TAB in a part each",
  joined: "notation and TAB in one part",
  tab: "TAB alone",
  notation: "notation alone",
};

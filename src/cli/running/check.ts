import { textOfFinding } from "../../diagnostics.js";
import { type CheckReport, checkSummaryLines } from "../../reporting/check-report.js";
import type { CheckOrder } from "../../work/order.js";
import type { Outcome } from "../exit-codes.js";
import type { ParsedLine } from "../flags.js";
import type { Outside } from "../outside.js";
import { askOfOneScore, type ScoreQuestion } from "./one-score.js";

const CHECK: ScoreQuestion<CheckOrder> = {
  name: "check",
  doing: "Checking",
  order: (score, options) => ({ kind: "check", score, options }),
  lines: linesFor,
  outcome: (report) => (report.summary.errors === 0 ? "done" : "scoreFaulty"),
};

export const checkOne = (line: ParsedLine, outside: Outside): Promise<Outcome> =>
  askOfOneScore(CHECK, line, outside);

function linesFor(report: CheckReport, isQuiet: boolean): readonly string[] {
  const shown = report.findings.filter(({ severity }) => !isQuiet || severity === "error");
  return [...shown.map(textOfFinding), ...(isQuiet ? [] : checkSummaryLines(report))];
}

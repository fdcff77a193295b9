import { textOfFinding } from "../diagnostics.js";
import { OPTIONS_FOR } from "../options/options.js";
import { type CheckReport, checkSummaryLines } from "../reporting/check-report.js";
import type { Command } from "./command.js";
import type { Flag } from "./flags.js";
import { flagList, optionList } from "./help.js";
import { askOfOneScore } from "./one-score.js";

const FLAGS = {
  json: {
    type: "boolean",
    description: "Prints figures and findings as JSON to standard output in place of lines.",
  },
  quiet: { type: "boolean", short: "q", description: "Prints errors only." },
} as const satisfies Record<string, Flag>;

export const check: Command = {
  usage: "check SCORE [OPTIONS]",
  description: "Says what in a guitar score a hand cannot play or finds hard.",
  details: [
    'SCORE is a MusicXML file with a guitar part, .musicxml, .xml or .mxl; "-" is standard input.',
    "One line a finding: file, measure, beat, how serious it is, what it is. Nothing is written.",
    "",
    "What is printed:",
    flagList(FLAGS),
    "",
    "What is judged by; tuning and capo count where the score states none:",
    optionList(OPTIONS_FOR.check),
  ].join("\n"),
  flags: FLAGS,
  options: OPTIONS_FOR.check,
  takes: "files",
  run: (words, outside) =>
    askOfOneScore(
      {
        name: "check",
        flags: FLAGS,
        options: OPTIONS_FOR.check,
        refusal: "it judges what is there",
        order: (score, options) => ({ kind: "check", score, options }),
        lines: linesFor,
        outcome: (report) => (report.summary.errors === 0 ? "done" : "scoreFaulty"),
      },
      words,
      outside,
    ),
};

function linesFor(report: CheckReport, isQuiet: boolean): readonly string[] {
  const shown = report.findings.filter(({ severity }) => !isQuiet || severity === "error");
  return [...shown.map(textOfFinding), ...(isQuiet ? [] : checkSummaryLines(report))];
}

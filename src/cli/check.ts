import { CHECK_OPTIONS, checkScore } from "../check-score.js";
import { type Finding, Findings, ScoreError, textOfFinding } from "../diagnostics.js";
import { readScoreText } from "../musicxml/container.js";
import { parseXml } from "../musicxml/parse-xml.js";
import { completeOptions, OptionsError } from "../option-checking.js";
import { type CheckReport, checkReport, checkSummaryLines } from "../reporting/check-report.js";
import type { Command } from "./command.js";
import type { Outcome } from "./exit-codes.js";
import { type Flag, flagNameOf, parseLine, UsageError } from "./flags.js";
import { flagList, optionList } from "./help.js";
import { type Outside, STANDARD_STREAM } from "./outside.js";

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
    optionList(CHECK_OPTIONS),
  ].join("\n"),
  flags: FLAGS,
  options: CHECK_OPTIONS,
  takes: "files",
  run: checkOne,
};

async function checkOne(words: readonly string[], outside: Outside): Promise<Outcome> {
  const { input, isJson, isQuiet, options: asked } = requestIn(words);
  const file = input === STANDARD_STREAM ? "standard input" : input;
  const findings = new Findings();
  try {
    const options = completeOptions(asked);
    const { text, warnings } = readScoreText(await outside.read(input));
    for (const warning of warnings) findings.add(warning);
    const report = checkReport(checkScore(parseXml(text), options, findings));
    const told = { ...report, findings: report.findings.map((finding) => at(file, finding)) };
    outside.toStandardOutput(isJson ? `${JSON.stringify(told, undefined, 2)}\n` : linesFor(told, isQuiet));
    return report.summary.errors === 0 ? "done" : "scoreFaulty";
  } catch (error) {
    const refused = findingsOf(error, findings, file);
    if (refused === undefined) throw error;
    outside.toStandardError(refused.map((finding) => `${textOfFinding(finding)}\n`).join(""));
    if (isJson) outside.toStandardOutput(`${JSON.stringify({ findings: refused }, undefined, 2)}\n`);
    return error instanceof OptionsError ? "wronglyAsked" : "scoreRefused";
  }
}

/** @throws UsageError where the words do not say one score, or give an option that a check has no use for */
function requestIn(words: readonly string[]) {
  const { flags, options, words: inputs } = parseLine(words, FLAGS);
  const [input] = inputs;
  if (input === undefined || inputs.length > 1)
    throw new UsageError(`check takes one score, and there are ${inputs.length}`);
  const known: readonly string[] = CHECK_OPTIONS;
  const stray = Object.keys(options).find((name) => !known.includes(name));
  if (stray !== undefined)
    throw new UsageError(`check has no use for --${flagNameOf(stray)}; it judges what is there`);
  return { input, isJson: flags.json === true, isQuiet: flags.quiet === true, options };
}

function linesFor(report: CheckReport, isQuiet: boolean): string {
  const shown = report.findings.filter(({ severity }) => !isQuiet || severity === "error");
  const lines = [...shown.map(textOfFinding), ...(isQuiet ? [] : checkSummaryLines(report))];
  return lines.map((line) => `${line}\n`).join("");
}

/** What was collected and what ended the work; undefined where the error is none of a score's or an option's. */
function findingsOf(error: unknown, collected: Findings, file: string): readonly Finding[] | undefined {
  if (error instanceof OptionsError) return error.findings;
  if (error instanceof ScoreError)
    return [...collected.all.map((finding) => at(file, finding)), error.at({ file }).finding];
  return undefined;
}

const at = (file: string, finding: Finding): Finding => ({ ...finding, place: { file, ...finding.place } });

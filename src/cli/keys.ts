import { type Finding, Findings, ScoreError, textOfFinding } from "../diagnostics.js";
import { readScoreText } from "../musicxml/container.js";
import { parseXml } from "../musicxml/parse-xml.js";
import { completeOptions, OptionsError } from "../option-checking.js";
import { keysLines } from "../reporting/keys-text.js";
import { KEYS_OPTIONS, surveyKeys } from "../survey-keys.js";
import type { Command } from "./command.js";
import type { Outcome } from "./exit-codes.js";
import { type Flag, flagNameOf, parseLine, UsageError } from "./flags.js";
import { flagList, optionList } from "./help.js";
import { type Outside, STANDARD_STREAM } from "./outside.js";

const FLAGS = {
  json: {
    type: "boolean",
    description: "Prints the survey as JSON to standard output in place of the table.",
  },
} as const satisfies Record<string, Flag>;

export const keys: Command = {
  usage: "keys SCORE [OPTIONS]",
  description: "Says what a lead sheet would be like to play in each of the twelve keys.",
  details: [
    'SCORE is a MusicXML file, .musicxml, .xml or .mxl; "-" is standard input. Nothing is written.',
    "One line for each key, and octave, in which the melody lies on its strings, the easiest first: the one",
    "that arrange --key best takes.",
    "",
    "What is printed:",
    flagList(FLAGS),
    "",
    "What the keys are compared by:",
    optionList(KEYS_OPTIONS),
  ].join("\n"),
  flags: FLAGS,
  options: KEYS_OPTIONS,
  takes: "files",
  run: surveyOne,
};

async function surveyOne(words: readonly string[], outside: Outside): Promise<Outcome> {
  const { input, isJson, options: asked } = requestIn(words);
  const file = input === STANDARD_STREAM ? "standard input" : input;
  const findings = new Findings();
  try {
    const options = completeOptions(asked);
    const { text, warnings } = readScoreText(await outside.read(input));
    for (const warning of warnings) findings.add(warning);
    const survey = surveyKeys(parseXml(text), options, findings);
    const told = { ...survey, findings: survey.findings.map((finding) => at(file, finding)) };
    const lines = [...keysLines(told), ...told.findings.map(textOfFinding)];
    outside.toStandardOutput(
      isJson ? `${JSON.stringify(told, undefined, 2)}\n` : lines.map((line) => `${line}\n`).join(""),
    );
    return "done";
  } catch (error) {
    const refused = findingsOf(error, findings, file);
    if (refused === undefined) throw error;
    outside.toStandardError(refused.map((finding) => `${textOfFinding(finding)}\n`).join(""));
    if (isJson) outside.toStandardOutput(`${JSON.stringify({ findings: refused }, undefined, 2)}\n`);
    return error instanceof OptionsError ? "wronglyAsked" : "scoreRefused";
  }
}

/** @throws UsageError where the words do not say one score, or give an option that the survey has no use for */
function requestIn(words: readonly string[]) {
  const { flags, options, words: inputs } = parseLine(words, FLAGS);
  const [input] = inputs;
  if (input === undefined || inputs.length > 1)
    throw new UsageError(`keys takes one score, and there are ${inputs.length}`);
  const stray = Object.keys(options).find((name) => !KEYS_OPTIONS.some((known) => known === name));
  if (stray !== undefined)
    throw new UsageError(
      `keys has no use for --${flagNameOf(stray)}; it compares all twelve keys and writes nothing`,
    );
  return { input, isJson: flags.json === true, options };
}

/** What was collected and what ended the work; undefined where the error is none of a score's or an option's. */
function findingsOf(error: unknown, collected: Findings, file: string): readonly Finding[] | undefined {
  if (error instanceof OptionsError) return error.findings;
  if (error instanceof ScoreError)
    return [...collected.all.map((finding) => at(file, finding)), error.at({ file }).finding];
  return undefined;
}

const at = (file: string, finding: Finding): Finding => ({ ...finding, place: { file, ...finding.place } });

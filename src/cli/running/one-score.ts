import { type Finding, ofFile } from "../../diagnostics.js";
import { completeOptions, OptionsError } from "../../options/option-checking.js";
import type { ArrangeOptions } from "../../options/options.js";
import type { CheckOrder, DoneFor, KeysOrder } from "../../work/order.js";
import type { Outcome } from "../exit-codes.js";
import { type ParsedLine, UsageError } from "../flags.js";
import { type Outside, STANDARD_STREAM } from "../outside.js";
import { answered } from "./answered.js";
import { refusalText } from "./refusal-text.js";
import { expectShortRun } from "./short-run.js";

/** Orders that read a score and do not change it. */
type AboutScore = CheckOrder | KeysOrder;

/** What is said of a score, in lines or as JSON. */
type ReportOn<Asked extends AboutScore> = DoneFor[Asked["kind"]]["report"];

/** A command that reads one score and answers with lines or with JSON. */
export interface ScoreQuestion<Asked extends AboutScore> {
  /** The command's name. */
  readonly name: string;
  /** What it does, for who waits: "Comparing keys for". */
  readonly doing: string;
  order(score: Uint8Array, options: ArrangeOptions): Asked;
  lines(report: ReportOn<Asked>, isQuiet: boolean): readonly string[];
  outcome(report: ReportOn<Asked>): Outcome;
}

/**
 * Puts a question about one score: the answer goes to standard output, what keeps it from being answered
 * to standard error, and with --json to standard output as well.
 *
 * @throws UsageError where the words do not say one score
 */
export async function askOfOneScore<Asked extends AboutScore>(
  question: ScoreQuestion<Asked>,
  line: ParsedLine,
  outside: Outside,
): Promise<Outcome> {
  const { input, isJson, isQuiet, options: asked } = requestIn(question, line);
  expectShortRun();
  const file = input === STANDARD_STREAM ? "standard input" : input;
  try {
    const options = completeOptions(asked);
    const order = question.order(await outside.read(input), options);
    const answer = answered(order, { doing: question.doing, file, isQuiet }, outside);
    const findings = answer.findings.map((finding) => ofFile(file, finding));
    if (answer.kind === "refused") return refused("scoreRefused", findings);
    const report: ReportOn<Asked> = { ...answer.report, findings };
    outside.toStandardOutput(isJson ? jsonOf(report) : textOf(question.lines(report, isQuiet)));
    return question.outcome(report);
  } catch (error) {
    if (!(error instanceof OptionsError)) throw error;
    return refused("wronglyAsked", error.findings);
  }

  function refused(outcome: Outcome, findings: readonly Finding[]): Outcome {
    outside.toStandardError(refusalText(findings));
    if (isJson) outside.toStandardOutput(jsonOf({ findings }));
    return outcome;
  }
}

function requestIn(
  { name }: Pick<ScoreQuestion<AboutScore>, "name">,
  { flags, options, words: inputs }: ParsedLine,
) {
  const [input] = inputs;
  if (input === undefined || inputs.length > 1)
    throw new UsageError(`${name} takes one score, and there are ${inputs.length}`);
  return { input, isJson: flags.json === true, isQuiet: flags.quiet === true, options };
}

const jsonOf = (value: unknown): string => `${JSON.stringify(value, undefined, 2)}\n`;

const textOf = (lines: readonly string[]): string => lines.map((line) => `${line}\n`).join("");

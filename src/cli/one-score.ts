import { type Finding, Findings, ScoreError, textOfFinding } from "../diagnostics.js";
import { completeOptions, OptionsError } from "../options/option-checking.js";
import type { ArrangeOptions, OptionName } from "../options/options.js";
import { readScore } from "../read-score.js";
import type { XmlDocument } from "../xml/xml-tree.js";
import type { Outcome } from "./exit-codes.js";
import { type Flag, flagNameOf, parseLine, UsageError } from "./flags.js";
import { type Outside, STANDARD_STREAM } from "./outside.js";

/** What a command says of one score that it reads and does not change. */
export interface Answer {
  readonly findings: readonly Finding[];
}

/** A command that reads one score and answers with lines or with JSON. */
export interface Question<Given extends Answer> {
  /** The command's name. */
  readonly name: string;
  readonly flags: Readonly<Record<string, Flag>>;
  readonly options: readonly OptionName[];
  /** Why any other option is refused, after the semicolon. */
  readonly refusal: string;
  ask(document: XmlDocument, options: ArrangeOptions, findings: Findings): Given;
  lines(answer: Given, isQuiet: boolean): readonly string[];
  outcome(answer: Given): Outcome;
}

/**
 * Puts a question about one score: the answer goes to standard output, what keeps it from being answered
 * to standard error, and with --json to standard output as well.
 *
 * @throws UsageError where the words do not say one score, or give an option that the question has no use for
 */
export async function askOfOneScore<Given extends Answer>(
  question: Question<Given>,
  words: readonly string[],
  outside: Outside,
): Promise<Outcome> {
  const { input, isJson, isQuiet, options: asked } = requestIn(question, words);
  const file = input === STANDARD_STREAM ? "standard input" : input;
  const findings = new Findings();
  try {
    const options = completeOptions(asked);
    const answer = question.ask(readScore(await outside.read(input), findings), options, findings);
    const told = { ...answer, findings: answer.findings.map((finding) => at(file, finding)) };
    outside.toStandardOutput(isJson ? jsonOf(told) : textOf(question.lines(told, isQuiet)));
    return question.outcome(answer);
  } catch (error) {
    const refused = findingsOf(error, findings, file);
    if (refused === undefined) throw error;
    outside.toStandardError(textOf(refused.map(textOfFinding)));
    if (isJson) outside.toStandardOutput(jsonOf({ findings: refused }));
    return error instanceof OptionsError ? "wronglyAsked" : "scoreRefused";
  }
}

function requestIn(
  question: Pick<Question<Answer>, "name" | "flags" | "options" | "refusal">,
  words: readonly string[],
) {
  const { flags, options, words: inputs } = parseLine(words, question.flags);
  const [input] = inputs;
  if (input === undefined || inputs.length > 1)
    throw new UsageError(`${question.name} takes one score, and there are ${inputs.length}`);
  const known: readonly string[] = question.options;
  const stray = Object.keys(options).find((name) => !known.includes(name));
  if (stray !== undefined)
    throw new UsageError(`${question.name} has no use for --${flagNameOf(stray)}; ${question.refusal}`);
  return { input, isJson: flags.json === true, isQuiet: flags.quiet === true, options };
}

/** What was collected and what ended the work; undefined where the error is none of a score's or an option's. */
function findingsOf(error: unknown, collected: Findings, file: string): readonly Finding[] | undefined {
  if (error instanceof OptionsError) return error.findings;
  if (error instanceof ScoreError)
    return [...collected.all.map((finding) => at(file, finding)), error.at({ file }).finding];
  return undefined;
}

const at = (file: string, finding: Finding): Finding => ({ ...finding, place: { file, ...finding.place } });

const jsonOf = (value: unknown): string => `${JSON.stringify(value, undefined, 2)}\n`;

const textOf = (lines: readonly string[]): string => lines.map((line) => `${line}\n`).join("");

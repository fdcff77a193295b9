import { basename, dirname, extname, join, resolve } from "node:path";
import { type Finding, ofFile, textOfFinding } from "../../diagnostics.js";
import { completeOptions, OptionsError } from "../../options/option-checking.js";
import { explanationLines } from "../../reporting/explanation.js";
import { jsonReport } from "../../reporting/json-report.js";
import { type Report, reportOnFile } from "../../reporting/report.js";
import { summaryLines } from "../../reporting/summary.js";
import { textReport } from "../../reporting/text-report.js";
import { readWishes, WishesError } from "../../wishes/read-wishes.js";
import { NO_WISHES, type WishesFile } from "../../wishes/wishes-file.js";
import type { Outcome } from "../exit-codes.js";
import { type ParsedLine, UsageError } from "../flags.js";
import { FileTrouble, type Outside, STANDARD_STREAM } from "../outside.js";
import { answered } from "./answered.js";
import { refusalText } from "./refusal-text.js";
import { refuseOtherEndings } from "./score-endings.js";
import { expectShortRun } from "./short-run.js";

/** What one call asks for. */
interface Request {
  readonly input: string;
  readonly output: string;
  /** The output was not named, and must not replace a file that is there. */
  readonly isOutputOurs: boolean;
  readonly reportFile: string | undefined;
  readonly wishesFile: string | undefined;
  readonly isExplained: boolean;
  readonly isJson: boolean;
  readonly isQuiet: boolean;
  readonly options: Readonly<Record<string, unknown>>;
}

export async function arrangeOne(line: ParsedLine, outside: Outside): Promise<Outcome> {
  const request = requestIn(line);
  expectShortRun();
  try {
    const options = completeOptions(request.options);
    if (request.isOutputOurs && (await outside.isThere(request.output))) throw outputIsThere(request.output);
    const wishes = await wishesIn(request, outside);
    const isCompressed = extname(request.output).toLowerCase() === ".mxl";
    const score = await outside.read(request.input);
    const beside = await besideIn(request, outside);
    const name = nameOfInput(request.input);
    const order = { kind: "arrange", score, options, wishes, isCompressed, beside } as const;
    const answer = answered(order, { doing: "Arranging", file: name, isQuiet: request.isQuiet }, outside);
    if (answer.kind === "refused") {
      const findings = answer.findings.map((finding) => ofFile(name, finding));
      return refused("scoreRefused", findings, request, outside);
    }
    const report = reportOnFile(name, answer);
    const written = { path: request.output, bytes: answer.score };
    await outside.write([...(isStream(written.path) ? [] : [written]), ...reportFiles(request, report)]);
    if (isStream(written.path)) outside.toStandardOutput(answer.score);
    tell(report, request, outside);
    return "done";
  } catch (error) {
    const findings = askedWrongly(error, request);
    if (findings === undefined) throw error;
    return refused("wronglyAsked", findings, request, outside);
  }
}

/** What stands where the guitar score goes; undefined where nothing does that can be read. */
async function besideIn(
  { input, output, isOutputOurs }: Request,
  outside: Outside,
): Promise<Uint8Array | undefined> {
  const isOther = !isOutputOurs && !isStream(output) && resolve(input) !== resolve(output);
  if (!isOther || !(await outside.isFile(output))) return undefined;
  return outside.read(output).catch((error: unknown) => {
    if (error instanceof FileTrouble) return undefined;
    throw error;
  });
}

function refused(
  outcome: Outcome,
  findings: readonly Finding[],
  { isJson }: Request,
  outside: Outside,
): Outcome {
  outside.toStandardError(refusalText(findings));
  if (isJson) outside.toStandardOutput(`${JSON.stringify({ findings }, undefined, 2)}\n`);
  return outcome;
}

/** @throws UsageError where the words do not say one input, or ask for what contradicts */
function requestIn({ flags, options, words: inputs }: ParsedLine): Request {
  const [input] = inputs;
  if (input === undefined || inputs.length > 1)
    throw new UsageError(
      `arrange takes one input file, and there are ${inputs.length}${input === undefined ? "" : "; the command batch takes several"}`,
    );
  const output = textIn(flags.output) ?? usualOutput(input);
  refuseOtherEndings(output);
  const isJson = flags.json === true;
  if (isJson && isStream(output))
    throw new UsageError(
      "--json and a score on standard output contradict: name a file with --output, or use --report",
    );
  const wishesFile = textIn(flags.wishes);
  if (isStream(input) && wishesFile === STANDARD_STREAM)
    throw new UsageError("the score and the wishes cannot both come from standard input");
  const isExplained = flags.explain === true;
  if (isExplained && (isJson || flags.quiet === true))
    throw new UsageError(`--explain and ${isJson ? "--json" : "--quiet"} contradict: ask for one of them`);
  if (options.lead === "drop" && !isStream(input) && resolve(input) === resolve(output))
    throw new UsageError("--lead drop and the input as --output contradict: the lead sheet would be lost");
  return {
    input,
    output,
    isOutputOurs: flags.output === undefined && !isStream(output),
    reportFile: textIn(flags.report),
    wishesFile,
    isExplained,
    isJson,
    isQuiet: flags.quiet === true,
    options,
  };
}

async function wishesIn({ wishesFile }: Request, outside: Outside): Promise<WishesFile> {
  if (wishesFile === undefined) return NO_WISHES;
  return readWishes(new TextDecoder().decode(await outside.read(wishesFile)));
}

const usualOutput = (input: string): string =>
  isStream(input)
    ? STANDARD_STREAM
    : join(dirname(input), `${basename(input, extname(input))}-guitar.musicxml`);

const outputIsThere = (output: string) =>
  new UsageError(`${output} is there already; name it with --output to replace it`);

function reportFiles({ reportFile }: Request, report: Report) {
  if (reportFile === undefined) return [];
  const text = extname(reportFile).toLowerCase() === ".json" ? jsonReport(report) : textReport(report);
  return [{ path: reportFile, bytes: new TextEncoder().encode(text) }];
}

/** What is said goes to standard error; a report that was asked for to standard output, where the score is not. */
function tell(report: Report, { output, isExplained, isJson, isQuiet }: Request, outside: Outside): void {
  const textOf = (lines: readonly string[]) => lines.map((line) => `${line}\n`).join("");
  if (isJson) outside.toStandardOutput(jsonReport(report));
  else if (isQuiet) outside.toStandardError(textOf(report.findings.filter(isMoveOfKey).map(textOfFinding)));
  else {
    const written = isStream(output) ? [] : [`Written: ${output}`];
    outside.toStandardError(textOf([...summaryLines(report), ...written]));
  }
  if (!isExplained) return;
  const explained = textOf(explanationLines(report));
  if (isStream(output)) outside.toStandardError(`\n${explained}`);
  else outside.toStandardOutput(explained);
}

/** A guitar that plays in another key than was asked for is no detail: it is said whatever else is not. */
const isMoveOfKey = ({ rule }: Finding): boolean => rule === "tune-moved-to-other-key";

/** What is wrong with an option or a wish; undefined where the error is of another kind. */
function askedWrongly(error: unknown, { wishesFile = "" }: Request): readonly Finding[] | undefined {
  if (error instanceof OptionsError) return error.findings;
  if (error instanceof WishesError)
    return error.findings.map((finding) => ofFile(nameOfInput(wishesFile), finding));
  return undefined;
}

const nameOfInput = (input: string): string => (isStream(input) ? "standard input" : input);
const isStream = (path: string): boolean => path === STANDARD_STREAM;
const textIn = (value: string | boolean | undefined): string | undefined =>
  typeof value === "string" ? value : undefined;

import { basename, dirname, extname, join } from "node:path";
import { type Finding, Findings, ofFile, ScoreError, textOfFinding } from "../../diagnostics.js";
import { mendScore } from "../../musicxml/mending/mend-score.js";
import { completeOptions, OptionsError } from "../../options/option-checking.js";
import { readScore } from "../../read-score.js";
import { scoreFile } from "../../xml/container.js";
import type { Outcome } from "../exit-codes.js";
import { type ParsedLine, UsageError } from "../flags.js";
import { type Outside, STANDARD_STREAM } from "../outside.js";
import { refusalText } from "./refusal-text.js";
import { refuseOtherEndings } from "./score-endings.js";

/** @throws UsageError where the words do not say one score */
export async function mendOne(
  { flags, options: asked, words: inputs }: ParsedLine,
  outside: Outside,
): Promise<Outcome> {
  const [input] = inputs;
  if (input === undefined || inputs.length > 1)
    throw new UsageError(`mend takes one score, and there are ${inputs.length}`);
  const named = typeof flags.output === "string" ? flags.output : undefined;
  const output = named ?? usualOutput(input);
  refuseOtherEndings(output);
  const isStream = output === STANDARD_STREAM;
  if (flags.json === true && isStream)
    throw new UsageError("--json and a score on standard output contradict: name a file with --output");
  const isOurs = named === undefined && !isStream;
  if (isOurs && (await outside.isThere(output)))
    throw new UsageError(`${output} is there already; name it with --output to replace it`);
  const file = input === STANDARD_STREAM ? "standard input" : input;
  const found = new Findings();
  try {
    const document = readScore(await outside.read(input), found);
    const { document: whole, mended, left } = mendScore(document, completeOptions(asked), found.all);
    const isWritten = !isOurs || mended.length > 0;
    const bytes = scoreFile(whole, extname(output).toLowerCase() === ".mxl");
    if (isStream) outside.toStandardOutput(bytes);
    else if (isWritten) await outside.write([{ path: output, bytes }]);
    const told = {
      mended: mended.map((one) => ofFile(file, one)),
      left: left.map((one) => ofFile(file, one)),
    };
    if (flags.json === true) outside.toStandardOutput(`${JSON.stringify(told, undefined, 2)}\n`);
    else if (flags.quiet !== true)
      outside.toStandardError(linesOf(told, isWritten && !isStream ? output : undefined));
    return "done";
  } catch (error) {
    if (!(error instanceof ScoreError || error instanceof OptionsError)) throw error;
    const findings =
      error instanceof ScoreError
        ? [...found.all.map((one) => ofFile(file, one)), error.at({ file }).finding]
        : error.findings;
    outside.toStandardError(refusalText(findings));
    if (flags.json === true) outside.toStandardOutput(`${JSON.stringify({ findings }, undefined, 2)}\n`);
    return error instanceof ScoreError ? "scoreRefused" : "wronglyAsked";
  }
}

function linesOf(
  { mended, left }: { readonly mended: readonly Finding[]; readonly left: readonly Finding[] },
  output: string | undefined,
): string {
  const list = (head: string, findings: readonly Finding[]) =>
    findings.length === 0 ? [] : [head, ...findings.map((one) => `  ${textOfFinding(one)}`)];
  return [
    ...(mended.length === 0 ? ["Nothing to mend."] : list(`Mended (${mended.length}):`, mended)),
    ...list(`Left as it is (${left.length}):`, left),
    ...(output === undefined ? [] : [`Written: ${output}`]),
    "",
  ].join("\n");
}

const usualOutput = (input: string): string =>
  input === STANDARD_STREAM
    ? STANDARD_STREAM
    : join(dirname(input), `${basename(input, extname(input))}-mended.musicxml`);

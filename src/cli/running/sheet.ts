import { basename, dirname, extname, join } from "node:path";
import { type Finding, Findings, ofFile, ScoreError } from "../../diagnostics.js";
import { completeOptions, OptionsError } from "../../options/option-checking.js";
import { readScore } from "../../read-score.js";
import { sheetHtml, sheetSvg } from "../../sheets/sheet-file.js";
import { type SheetKind, sheetOf } from "../../sheets/sheet-of-score.js";
import { readWishes, WishesError } from "../../wishes/read-wishes.js";
import type { Outcome } from "../exit-codes.js";
import { type ParsedLine, UsageError } from "../flags.js";
import { type Outside, STANDARD_STREAM } from "../outside.js";
import { refusalText } from "./refusal-text.js";

const KINDS: readonly SheetKind[] = ["steps", "shapes"];

export async function writeSheet(
  { flags, options: given, words: scores }: ParsedLine,
  outside: Outside,
): Promise<Outcome> {
  const [score] = scores;
  if (score === undefined || scores.length > 1)
    throw new UsageError(`sheet takes one score, and there are ${scores.length}`);
  const kinds = kindsIn(flags.only);
  const output = await outputFor(score, flags.output, outside);
  const findings = new Findings();
  const file = score === STANDARD_STREAM ? "standard input" : score;
  const inScore = (found: readonly Finding[]) => found.map((one) => ofFile(file, one));
  try {
    const options = completeOptions(given);
    const wishes = flags.wishes === undefined ? undefined : await wishesIn(String(flags.wishes), outside);
    const document = readScore(await outside.read(score), findings);
    const { title, pages } = sheetOf(document, options, findings, wishes, kinds);
    const write = extname(output).toLowerCase() === ".svg" ? sheetSvg : sheetHtml;
    await outside.write([{ path: output, bytes: new TextEncoder().encode(write(title, pages)) }]);
    outside.toStandardError(refusalText(inScore(findings.all)));
    outside.toStandardOutput(`Written: ${output}\n`);
    return "done";
  } catch (error) {
    const [outcome, refused] = whatIsWrong(error, file, String(flags.wishes));
    outside.toStandardError(refusalText([...inScore(findings.all), ...refused]));
    return outcome;
  }
}

function kindsIn(only: unknown): readonly SheetKind[] {
  if (only === undefined) return KINDS;
  const kind = KINDS.find((one) => one === only);
  if (kind === undefined) throw new UsageError(`--only takes steps or shapes, not "${only}"`);
  return [kind];
}

async function outputFor(score: string, named: unknown, outside: Outside): Promise<string> {
  if (typeof named === "string") {
    if (!/\.(html?|svg)$/i.test(named))
      throw new UsageError(`a sheet is written as .html or .svg, not as "${named}"`);
    return named;
  }
  if (score === STANDARD_STREAM)
    throw new UsageError("with the score from standard input, name the sheet with --output");
  const output = join(dirname(score), `${basename(score, extname(score))}-sheet.html`);
  if (await outside.isThere(output))
    throw new UsageError(`${output} is there already; name it with --output to replace it`);
  return output;
}

const wishesIn = async (path: string, outside: Outside) =>
  readWishes(new TextDecoder().decode(await outside.read(path)));

function whatIsWrong(error: unknown, score: string, wishes: string): readonly [Outcome, readonly Finding[]] {
  if (error instanceof ScoreError) return ["scoreRefused", [ofFile(score, error.finding)]];
  if (error instanceof WishesError) return ["wronglyAsked", error.findings.map((one) => ofFile(wishes, one))];
  if (error instanceof OptionsError) return ["wronglyAsked", error.findings];
  throw error;
}

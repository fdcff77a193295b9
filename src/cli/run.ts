import { VERSION } from "../version.js";
import type { Command } from "./command.js";
import { COMMANDS } from "./commands.js";
import { EXIT_CODES, type Outcome } from "./exit-codes.js";
import { flagNameOf, parseLine, UsageError } from "./flags.js";
import { commandHelp, programHelp } from "./help.js";
import { nearestWord } from "./nearest-word.js";
import { FileTrouble, type Outside } from "./outside.js";

/** Runs the program on the words of a command line and answers with its exit status. */
export async function run(words: readonly string[], outside: Outside): Promise<number> {
  return EXIT_CODES[await outcomeOf(words, outside)].code;
}

async function outcomeOf(words: readonly string[], outside: Outside): Promise<Outcome> {
  try {
    return await dispatched(words, outside);
  } catch (error) {
    const [outcome, text] = troubleIn(error);
    outside.toStandardError(`undervoice: error: ${text}\n`);
    return outcome;
  }
}

async function dispatched([first, ...rest]: readonly string[], outside: Outside): Promise<Outcome> {
  if (first === undefined) {
    outside.toStandardError(programHelp(COMMANDS));
    return "wronglyAsked";
  }
  if (["--version", "-V", "-v", "version"].includes(first)) return said(`${VERSION}\n`, outside);
  if (["help", "--help", "-h"].includes(first)) return said(helpOn(rest[0]), outside);
  const command = commandNamed(first);
  return rest.some((word) => word === "--help" || word === "-h")
    ? said(commandHelp(command), outside)
    : command.run(lineFor(first, command, rest), outside);
}

/** @throws UsageError where the words cannot be read, or give an option that the command has no use for */
function lineFor(name: string, { flags, options, refusal = "" }: Command, words: readonly string[]) {
  const line = parseLine(words, flags);
  const known: readonly string[] = options;
  const stray = Object.keys(line.options).find((option) => !known.includes(option));
  if (stray === undefined) return line;
  throw new UsageError(`${name} has no use for --${flagNameOf(stray)}${refusal && `; ${refusal}`}`);
}

function said(text: string, outside: Outside): Outcome {
  outside.toStandardOutput(text);
  return "done";
}

const helpOn = (name: string | undefined): string =>
  name === undefined ? programHelp(COMMANDS) : commandHelp(commandNamed(name));

function commandNamed(name: string) {
  const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (command !== undefined) return command;
  const words = [...Object.keys(COMMANDS), "help"];
  const meant = nearestWord(name, [...words, "--help", "--version"]);
  const advice = /\.(musicxml|xml|mxl)$/i.test(name)
    ? `to have a score arranged: undervoice arrange ${name}`
    : meant === undefined
      ? `there are ${words.join(", ")}`
      : `did you mean "${meant}"?`;
  throw new UsageError(`there is no command "${name}"; ${advice}`);
}

function troubleIn(error: unknown): readonly [Outcome, string] {
  if (error instanceof UsageError) return ["wronglyAsked", error.message];
  if (error instanceof FileTrouble) return ["fileTrouble", error.message];
  const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
  return ["ownMistake", `a mistake in the program itself; please report it with the score.\n${text}`];
}

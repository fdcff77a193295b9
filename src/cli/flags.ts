import { type ParseArgsConfig, parseArgs } from "node:util";
import { OPTIONS, type OptionName } from "../options/options.js";
import { nearestWord } from "./nearest-word.js";

/** A flag of a command that is not an option of the arrangement. */
export interface Flag {
  readonly type: "string" | "boolean";
  readonly short?: string;
  /** What stands for the value in the help. */
  readonly value?: string;
  readonly description: string;
}

/** The command line asks for something there is not. */
export class UsageError extends Error {
  override readonly name = "UsageError";
}

/** "scaleLength" is --scale-length. */
export const flagNameOf = (option: string): string =>
  option.replace(/[A-Z]/g, (capital) => `-${capital.toLowerCase()}`);

export interface ParsedLine {
  /** Values of the command's own flags, by name. */
  readonly flags: Readonly<Record<string, string | boolean | undefined>>;
  /** Options of the arrangement that were given, unchecked but for numbers, which are numbers now. */
  readonly options: Readonly<Partial<Record<OptionName, unknown>>>;
  /** What is no flag. */
  readonly words: readonly string[];
}

/**
 * Reads a command's words by its own flags and the options table.
 *
 * @throws UsageError where a flag is unknown or lacks its value, or a name is empty
 */
export function parseLine(words: readonly string[], ownFlags: Readonly<Record<string, Flag>>): ParsedLine {
  const optionFlags = Object.entries(OPTIONS).map(([name, row]) => [
    flagNameOf(name),
    { type: row.type === "boolean" ? "boolean" : "string" },
  ]);
  const config = { ...ownFlags, ...Object.fromEntries(optionFlags) } as NonNullable<
    ParseArgsConfig["options"]
  >;
  const { values, positionals } = parsed(words, config);
  // What an unset variable of a shell leaves behind.
  if (positionals.includes("")) throw new UsageError("a file or folder was named with an empty text");
  const empty = Object.keys(ownFlags).find((name) => values[name] === "");
  if (empty !== undefined) throw new UsageError(`--${empty} was given an empty text`);
  const options = Object.entries(OPTIONS).flatMap(([name, row]) => {
    const value = values[flagNameOf(name)];
    return value === undefined
      ? []
      : [[name, row.type === "integer" || row.type === "number" ? numberIn(value) : value]];
  });
  const flags = Object.keys(ownFlags).map((name) => [name, values[name]]);
  return { flags: Object.fromEntries(flags), options: Object.fromEntries(options), words: positionals };
}

function parsed(words: readonly string[], options: NonNullable<ParseArgsConfig["options"]>) {
  try {
    return parseArgs({ args: [...words], options, allowPositionals: true });
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code?.startsWith("ERR_PARSE_ARGS") !== true) throw error;
    const lacking = /^Option '(?:-., )?(--[^ ]*) <value>' argument missing/.exec(message)?.[1];
    if (lacking !== undefined) throw new UsageError(`${lacking} needs a value after it`);
    throw new UsageError(
      withSuggestion(message.replace(/(['.])\s+To specify.*$/s, "$1"), Object.keys(options)),
    );
  }
}

/** "Unknown option '--fret'." with the option that was meant. */
function withSuggestion(message: string, names: readonly string[]): string {
  const typed = /^Unknown option '--([^']*)'/.exec(message)?.[1];
  const meant = typed === undefined ? undefined : nearestWord(typed, names);
  return meant === undefined ? message : `${message.replace(/\.$/, "")}; did you mean "--${meant}"?`;
}

/** Text that is no number stays text, so that the check can refuse it by the option's name. */
function numberIn(value: unknown): unknown {
  const number = Number(value);
  return typeof value === "string" && value.trim() !== "" && Number.isFinite(number) ? number : value;
}

import { OPTIONS, type OptionName } from "../options/options.js";
import type { Command } from "./command.js";
import { EXIT_CODES } from "./exit-codes.js";
import { type Flag, flagNameOf } from "./flags.js";

/** Column at which descriptions start in a list of flags. */
const DESCRIPTION_COLUMN = 24;

/** Columns of the help, for a terminal of the usual width. */
const WIDTH = 100;

/** What the program is and can do. */
export function programHelp(commands: Readonly<Record<string, Command>>): string {
  return lines([
    "Reads a lead sheet in MusicXML and writes it back with a fingered chord melody for one guitar.",
    "",
    "Usage:",
    ...Object.values(commands).map(({ usage }) => `  undervoice ${usage}`),
    "  undervoice help [COMMAND]",
    "  undervoice --version",
    "",
    "Commands:",
    ...Object.entries(commands).map(([name, { description }]) => row(name, description)),
    "",
    "Exit status:",
    ...Object.values(EXIT_CODES).map(({ code, meaning }) => row(String(code), meaning)),
  ]);
}

/** How one command is used. */
export const commandHelp = (command: Command): string =>
  lines([`Usage: undervoice ${command.usage}`, "", command.description, "", command.details]);

/** A command's own flags as a list. */
export const flagList = (flags: Readonly<Record<string, Flag>>): string =>
  Object.entries(flags)
    .map(([name, { short, value, description }]) =>
      row(
        `${short === undefined ? "" : `-${short}, `}--${name}${value === undefined ? "" : ` ${value}`}`,
        description,
      ),
    )
    .join("\n");

/** Options of an arrangement as a list of flags: all of them, or those named. */
export const optionList = (names: readonly OptionName[] = Object.keys(OPTIONS) as OptionName[]): string =>
  names
    .map((name) => {
      const option = OPTIONS[name];
      const range = "minimum" in option ? `${option.minimum} to ${option.maximum}` : undefined;
      const usual =
        option.type === "boolean" || option.default === undefined ? undefined : `default ${option.default}`;
      const facts = [range, usual].filter((fact) => fact !== undefined).join("; ");
      return row(
        `--${flagNameOf(name)}${placeholderOf(option)}`,
        `${option.description}${facts === "" ? "" : ` (${facts})`}`,
      );
    })
    .join("\n");

/** What stands for the value: the words it can be, or its kind. */
function placeholderOf(option: (typeof OPTIONS)[OptionName]): string {
  if (option.type === "boolean") return "";
  if ("enum" in option) return ` ${option.enum.join("|")}`;
  return option.type === "string" ? " TEXT" : " NUMBER";
}

function row(left: string, right: string): string {
  const start = `  ${left}`;
  const margin = " ".repeat(DESCRIPTION_COLUMN);
  const [first = "", ...rest] = wrapped(right, WIDTH - DESCRIPTION_COLUMN);
  const opening =
    start.length < DESCRIPTION_COLUMN - 1
      ? [start.padEnd(DESCRIPTION_COLUMN) + first]
      : [start, margin + first];
  return [...opening, ...rest.map((line) => margin + line)].join("\n");
}

/** Text in lines of at most so many columns, broken between words. */
function wrapped(text: string, columns: number): readonly string[] {
  const broken: string[] = [];
  for (const word of text.split(" ")) {
    const line = broken.at(-1);
    if (line === undefined || line.length + 1 + word.length > columns) broken.push(word);
    else broken[broken.length - 1] = `${line} ${word}`;
  }
  return broken;
}

const lines = (all: readonly string[]): string => `${all.join("\n")}\n`;

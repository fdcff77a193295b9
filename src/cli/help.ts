import { rangeOf } from "../option-checking.js";
import { OPTIONS, type OptionName } from "../options.js";
import type { Command } from "./command.js";
import { EXIT_CODES } from "./exit-codes.js";
import { type Flag, flagNameOf } from "./flags.js";

/** Column at which descriptions start in a list of flags. */
const DESCRIPTION_COLUMN = 24;

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

/** The options of an arrangement as a list of flags. */
export const optionList = (): string =>
  Object.entries(OPTIONS)
    .map(([name, { type, default: usual, description }]) => {
      const takes = type === "boolean" ? "" : ` Takes ${rangeOf(name as OptionName)}.`;
      const otherwise = type === "boolean" || usual === undefined ? "" : ` Default: ${usual}.`;
      return row(
        `--${flagNameOf(name)}${type === "boolean" ? "" : ` ${type.toUpperCase()}`}`,
        `${description}${takes}${otherwise}`,
      );
    })
    .join("\n");

function row(left: string, right: string): string {
  const start = `  ${left}`;
  return start.length < DESCRIPTION_COLUMN - 1
    ? start.padEnd(DESCRIPTION_COLUMN) + right
    : `${start}\n${" ".repeat(DESCRIPTION_COLUMN)}${right}`;
}

const lines = (all: readonly string[]): string => `${all.join("\n")}\n`;

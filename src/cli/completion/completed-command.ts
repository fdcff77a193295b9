import { OPTIONS, type OptionName } from "../../options/options.js";
import type { Command } from "../command.js";
import { flagNameOf } from "../flags.js";

/** A command as the scripts of the shells need it. */
export interface CompletedCommand {
  readonly name: string;
  readonly description: string;
  readonly flags: readonly CompletedFlag[];
  readonly takes: Command["takes"];
}

export interface CompletedFlag {
  /** Without dashes. */
  readonly name: string;
  readonly short: string | undefined;
  /** One sentence or less. */
  readonly description: string;
  /** Nothing for a switch; else a file, one of a few words, or text that nobody can complete. */
  readonly value: "nothing" | "file" | "text" | readonly string[];
}

const HELP: CompletedFlag = {
  name: "help",
  short: "h",
  description: "Says how this is used.",
  value: "nothing",
};

/** Every command there is, and "help", which is about the others. */
export const completedCommands = (
  commands: Readonly<Record<string, Command>>,
): readonly CompletedCommand[] => [
  ...Object.entries(commands).map(([name, { description, flags, options, takes }]) => ({
    name,
    description,
    takes,
    flags: [
      ...Object.entries(flags).map(
        ([flag, { type, short, value, description: sentence }]): CompletedFlag => ({
          name: flag,
          short,
          description: firstSentence(sentence),
          value: type === "boolean" ? "nothing" : value === "FILE" ? "file" : "text",
        }),
      ),
      ...options.map(optionFlag),
      HELP,
    ],
  })),
  { name: "help", description: "Says how a command is used.", flags: [], takes: Object.keys(commands) },
];

function optionFlag(name: OptionName): CompletedFlag {
  const row = OPTIONS[name];
  const value = row.type === "boolean" ? "nothing" : "enum" in row ? row.enum : "text";
  return { name: flagNameOf(name), short: undefined, description: firstSentence(row.description), value };
}

const firstSentence = (text: string): string => /^.*?[.](?= |$)/.exec(text)?.[0] ?? text;

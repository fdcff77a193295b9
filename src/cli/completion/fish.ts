import type { CompletedCommand, CompletedFlag } from "./completed-command.js";

/** The script for fish. */
export const fishScript = (commands: readonly CompletedCommand[]): string =>
  [
    "# undervoice: completion for fish",
    "complete -c undervoice -f",
    ...commands.map(
      ({ name, description }) =>
        `complete -c undervoice -n __fish_use_subcommand -a ${name} -d ${quoted(description)}`,
    ),
    "complete -c undervoice -n __fish_use_subcommand -s V -l version -d 'Says the version.'",
    ...commands.flatMap(commandLines),
    "",
  ].join("\n");

const commandLines = ({ name, flags, takes }: CompletedCommand): readonly string[] => {
  const start = `complete -c undervoice -n '__fish_seen_subcommand_from ${name}'`;
  return [
    ...otherWords(takes).map((words) => `${start} ${words}`),
    ...flags.map((flag) => `${start} ${flagWords(flag)}`),
  ];
};

function flagWords({ name, short, description, value }: CompletedFlag): string {
  const takes =
    value === "nothing"
      ? ""
      : value === "file"
        ? " -r -F"
        : value === "text"
          ? " -x"
          : ` -x -a ${quoted(value.join(" "))}`;
  return `${short === undefined ? "" : `-s ${short} `}-l ${name}${takes} -d ${quoted(description)}`;
}

function otherWords(takes: CompletedCommand["takes"]): readonly string[] {
  if (takes === "files") return ["-F"];
  if (takes === "folders") return ["-x -a '(__fish_complete_directories)'"];
  return takes === "nothing" ? [] : [`-x -a ${quoted(takes.join(" "))}`];
}

const quoted = (text: string): string => `'${text.replace(/[\\']/g, "\\$&")}'`;

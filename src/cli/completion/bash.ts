import type { CompletedCommand, CompletedFlag } from "./completed-command.js";

/** The script for bash; needs nothing but bash itself, from version 3.2 as macOS has it. */
export const bashScript = (
  commands: readonly CompletedCommand[],
): string => `# undervoice: completion for bash
_undervoice() {
  local word="\${COMP_WORDS[COMP_CWORD]}" before="" command="" words=""
  if [ "$COMP_CWORD" -gt 0 ]; then before="\${COMP_WORDS[COMP_CWORD-1]}"; fi
  if [ "$COMP_CWORD" -gt 1 ]; then command="\${COMP_WORDS[1]}"; fi
  # bash takes --flag=value for three words.
  if [ "$word" = "=" ]; then word=""; elif [ "$before" = "=" ]; then before="\${COMP_WORDS[COMP_CWORD-2]}"; fi
  COMPREPLY=()
  case "$command $before" in
${commands.flatMap(valueCases).join("\n")}
  esac
  case "$command" in
    "") words="${commands.map(({ name }) => name).join(" ")} --help --version" ;;
${commands.map(commandCase).join("\n")}
  esac
  case "$word" in
    -*) ;;
    *)
      case "$command" in
${commands.map(otherWords).join("\n")}
      esac
      ;;
  esac
  COMPREPLY=($(compgen -W "$words" -- "$word"))
}
complete -o filenames -F _undervoice undervoice
`;

const dashed = ({ name, short }: CompletedFlag): readonly string[] => [
  `--${name}`,
  ...(short === undefined ? [] : [`-${short}`]),
];

/** After a flag that takes a value, the value is completed and nothing else. */
function valueCases({ name: command, flags }: CompletedCommand): readonly string[] {
  return flags
    .filter(({ value }) => value !== "nothing")
    .map((flag) => {
      const pattern = dashed(flag)
        .map((word) => `"${command} ${word}"`)
        .join(" | ");
      const reply =
        flag.value === "file"
          ? ` ${FILES};`
          : flag.value === "text"
            ? ""
            : ` COMPREPLY=($(compgen -W "${(flag.value as readonly string[]).join(" ")}" -- "$word"));`;
      return `    ${pattern})${reply} return ;;`;
    });
}

const FILES = "local IFS=$'\\n'; COMPREPLY=($(compgen -f -- \"$word\"))";
const FOLDERS = "local IFS=$'\\n'; COMPREPLY=($(compgen -d -- \"$word\"))";

const commandCase = ({ name, flags }: CompletedCommand): string =>
  `    ${name}) words="${flags.flatMap(dashed).join(" ")}" ;;`;

function otherWords({ name, takes }: CompletedCommand): string {
  if (takes === "files") return `        ${name}) ${FILES}; return ;;`;
  if (takes === "folders") return `        ${name}) ${FOLDERS}; return ;;`;
  return `        ${name}) words="${takes === "nothing" ? "" : takes.join(" ")}" ;;`;
}

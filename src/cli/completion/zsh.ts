import type { CompletedCommand, CompletedFlag } from "./completed-command.js";

/** The script for zsh, to be put into a folder of $fpath as "_undervoice", or to be run after compinit. */
export const zshScript = (commands: readonly CompletedCommand[]): string => `#compdef undervoice
# undervoice: completion for zsh
_undervoice() {
  local curcontext="$curcontext" state line
  _arguments -C '(- *)'{-h,--help}'[Says how this is used.]' '(- *)'{-V,--version}'[Says the version.]' '1: :->command' '*:: :->words'
  case $state in
    command)
      local -a commands=(
${commands.map(({ name, description }) => `        ${quoted(`${name}:${description}`)}`).join("\n")}
      )
      _describe command commands
      ;;
    words)
      case $line[1] in
${commands.map(commandCase).join("\n")}
      esac
      ;;
  esac
}
if [ "$funcstack[1]" = _undervoice ]; then _undervoice "$@"; else compdef _undervoice undervoice; fi
`;

const commandCase = ({ name, flags, takes }: CompletedCommand): string => {
  const specifications = [...flags.flatMap(flagSpecifications), quoted(otherWords(takes))];
  return `        ${name})\n          _arguments ${specifications.join(" \\\n            ")}\n          ;;`;
};

function flagSpecifications({ name, short, description, value }: CompletedFlag): readonly string[] {
  const text = `[${description.replace(/[[\]\\]/g, "\\$&")}]`;
  const takes =
    value === "nothing"
      ? ""
      : value === "file"
        ? ":file:_files"
        : value === "text"
          ? ":text: "
          : `:value:(${value.join(" ")})`;
  const words = [`--${name}${value === "nothing" ? "" : "="}`, ...(short === undefined ? [] : [`-${short}`])];
  return words.map((word) => quoted(`${word}${text}${takes}`));
}

function otherWords(takes: CompletedCommand["takes"]): string {
  if (takes === "files") return "*:file:_files";
  if (takes === "folders") return "*:folder:_files -/";
  return takes === "nothing" ? "*: : " : `1:word:(${takes.join(" ")})`;
}

const quoted = (text: string): string => `'${text.replaceAll("'", "'\\''")}'`;

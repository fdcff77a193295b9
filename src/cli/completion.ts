import type { Command } from "./command.js";
import { bashScript } from "./completion/bash.js";
import { type CompletedCommand, completedCommands } from "./completion/completed-command.js";
import { fishScript } from "./completion/fish.js";
import { powershellScript } from "./completion/powershell.js";
import { zshScript } from "./completion/zsh.js";
import { parseLine, UsageError } from "./flags.js";

/** How each shell is told what can be typed. */
const SHELLS: Readonly<Record<string, (commands: readonly CompletedCommand[]) => string>> = {
  bash: bashScript,
  zsh: zshScript,
  fish: fishScript,
  powershell: powershellScript,
};

const shellNames = Object.keys(SHELLS);

/** The command that is about all commands, itself among them; so they are asked for when it runs. */
export const completionOf = (commands: () => Readonly<Record<string, Command>>): Command => ({
  usage: `completion ${shellNames.join("|")}`,
  description: "Prints a script by which a shell completes commands, flags and their values.",
  details: [
    "Put one of these lines into the file that the shell reads when it starts:",
    "",
    "  bash, ~/.bashrc                source <(undervoice completion bash)",
    "  zsh, ~/.zshrc after compinit   source <(undervoice completion zsh)",
    "  fish, config.fish              undervoice completion fish | source",
    "  PowerShell, $PROFILE           undervoice completion powershell | Out-String | Invoke-Expression",
  ].join("\n"),
  flags: {},
  options: [],
  takes: shellNames,
  async run(words, outside) {
    const { words: shells } = parseLine(words, {});
    const [shell = ""] = shells;
    const script = Object.hasOwn(SHELLS, shell) ? SHELLS[shell] : undefined;
    if (script === undefined || shells.length > 1)
      throw new UsageError(`completion takes one shell: ${shellNames.join(", ")}`);
    outside.toStandardOutput(script(completedCommands(commands())));
    return "done";
  },
});

import type { Command } from "./command.js";
import { SHELLS } from "./completion/shells.js";
import { UsageError } from "./flags.js";

/** The command that is about all commands, itself among them; so they are asked for when it runs. */
export const completionOf = (commands: () => Readonly<Record<string, Command>>): Command => ({
  usage: `completion ${SHELLS.join("|")}`,
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
  takes: SHELLS,
  async run({ words: shells }, outside) {
    const shell = SHELLS.find((name) => name === shells[0]);
    if (shell === undefined || shells.length > 1)
      throw new UsageError(`completion takes one shell: ${SHELLS.join(", ")}`);
    const { completionScript } = await import("./completion/completion-script.js");
    outside.toStandardOutput(completionScript(shell, commands()));
    return "done";
  },
});

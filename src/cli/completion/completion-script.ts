import type { Command } from "../command.js";
import { bashScript } from "./bash.js";
import { type CompletedCommand, completedCommands } from "./completed-command.js";
import { fishScript } from "./fish.js";
import { powershellScript } from "./powershell.js";
import type { Shell } from "./shells.js";
import { zshScript } from "./zsh.js";

/** How each shell is told. */
const SCRIPTS: Readonly<Record<Shell, (commands: readonly CompletedCommand[]) => string>> = {
  bash: bashScript,
  zsh: zshScript,
  fish: fishScript,
  powershell: powershellScript,
};

/** What a shell has to run so that it completes our commands. */
export const completionScript = (shell: Shell, commands: Readonly<Record<string, Command>>): string =>
  SCRIPTS[shell](completedCommands(commands));

import { arrange } from "./arrange.js";
import { check } from "./check.js";
import type { Command } from "./command.js";
import { serve } from "./serve.js";

/** Every command by the word that calls it. */
export const COMMANDS: Readonly<Record<string, Command>> = { arrange, check, serve };

import { adapt } from "./adapt.js";
import { arrange } from "./arrange.js";
import { batch } from "./batch.js";
import { check } from "./check.js";
import type { Command } from "./command.js";
import { completionOf } from "./completion.js";
import { keys } from "./keys.js";
import { mend } from "./mend.js";
import { open } from "./open.js";
import { serve } from "./serve.js";
import { sheet } from "./sheet.js";
import { watch } from "./watch.js";

/** Every command by the word that calls it. */
export const COMMANDS: Readonly<Record<string, Command>> = {
  arrange,
  batch,
  check,
  keys,
  mend,
  sheet,
  watch,
  adapt,
  serve,
  open,
  completion: completionOf(() => COMMANDS),
};

import type { Outcome } from "./exit-codes.js";
import type { Outside } from "./outside.js";

/** One command of the program. */
export interface Command {
  /** The words after "undervoice", such as "arrange INPUT [-o OUTPUT]". */
  readonly usage: string;
  /** One sentence for the list of commands. */
  readonly description: string;
  /** What the help of this command says besides. */
  readonly details: string;
  run(words: readonly string[], outside: Outside): Promise<Outcome>;
}

import type { OptionName } from "../options/options.js";
import type { Outcome } from "./exit-codes.js";
import type { Flag, ParsedLine } from "./flags.js";
import type { Outside } from "./outside.js";

/** One command of the program. */
export interface Command {
  /** The words after "undervoice", such as "arrange INPUT [-o OUTPUT]". */
  readonly usage: string;
  /** One sentence for the list of commands. */
  readonly description: string;
  /** What the help of this command says besides. */
  readonly details: string;
  /** Flags of its own, and options of the arrangement that it takes. */
  readonly flags: Readonly<Record<string, Flag>>;
  readonly options: readonly OptionName[];
  /** Why it refuses the other options, where it does: "it judges what is there". */
  readonly refusal?: string;
  /** What its other words are: files, folders, one of a few words, or nothing. */
  readonly takes: "files" | "folders" | "nothing" | readonly string[];
  /** Does what the words ask. What it needs is loaded only then, so that the help is there at once. */
  run(line: ParsedLine, outside: Outside): Promise<Outcome>;
}

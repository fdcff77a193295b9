import { extname } from "node:path";
import { UsageError } from "../flags.js";

const ENDINGS = [".musicxml", ".xml", ".mxl"];

/**
 * A score goes to a file that is called like one, or has no ending at all.
 *
 * @throws UsageError where the ending promises something else
 */
export function refuseOtherEndings(output: string): void {
  const ending = extname(output).toLowerCase();
  if (ending === "" || ENDINGS.includes(ending)) return;
  throw new UsageError(
    `${output}: a score is written as .musicxml, .xml or .mxl, not as ${ending}; open it in your notation program to have that`,
  );
}

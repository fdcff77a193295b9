import { type Finding, textOfFinding } from "../../diagnostics.js";

/** Why something was refused, a line each; what is wrong in no file is wrong with what was asked of the program. */
export const refusalText = (findings: readonly Finding[]): string =>
  findings
    .map((finding) => `${finding.place.file === undefined ? "undervoice: " : ""}${textOfFinding(finding)}\n`)
    .join("");

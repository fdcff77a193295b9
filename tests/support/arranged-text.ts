import { arrangeScore } from "../../src/arrange-score.js";
import { type Finding, Findings } from "../../src/diagnostics.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { printXml } from "../../src/xml/print-xml.js";

/** The text of a lead sheet arranged, as text, with what was said about it. */
export function arrangedText(
  xml: string,
  options: object = {},
): { readonly document: string; readonly findings: readonly Finding[] } {
  const findings = new Findings();
  const { document } = arrangeScore(parseXml(xml), completeOptions(options), findings);
  return { document: printXml(document), findings: findings.all };
}

import type { Findings } from "./diagnostics.js";
import { readScoreText } from "./xml/container.js";
import { parseXml } from "./xml/parse-xml.js";
import type { XmlDocument } from "./xml/xml-tree.js";

/**
 * The document in the bytes of a score, .musicxml or .mxl; what was odd about the file is among the findings.
 *
 * @throws ScoreError where the bytes are no score that can be read
 */
export function readScore(bytes: Uint8Array, findings: Findings): XmlDocument {
  const { text, warnings } = readScoreText(bytes);
  for (const warning of warnings) findings.add(warning);
  return parseXml(text);
}

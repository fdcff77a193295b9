import { parseXml, readScoreText, ScoreError } from "undervoice";
import { readOwnMark } from "#built/musicxml/round-trip/provenance.js";

/** Whether a score is a guitar score that was written here and still says so. One that cannot be read is none. */
export function isOwnScore(bytes: Uint8Array): boolean {
  try {
    return readOwnMark(parseXml(readScoreText(bytes).text).root) !== undefined;
  } catch (error) {
    // Asked by name: the class may have been loaded twice, from the source and from the build.
    if (error instanceof Error && error.name === ScoreError.name) return false;
    throw error;
  }
}

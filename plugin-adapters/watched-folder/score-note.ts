import { type Finding, ofFile, textOfFinding } from "undervoice";
import { troubleInWords } from "#built/files/trouble-in-words.js";

/** What is wrong, a line each, with the name of the file in front. */
export const linesAbout = (input: string, findings: readonly Finding[]): readonly string[] =>
  findings.map((finding) => textOfFinding(ofFile(input, finding)));

/** The note that lies where the guitar score would have been. Lines end so that every editor breaks them. */
export const noteText = (input: string, lines: readonly string[]): string =>
  [
    `Undervoice did not arrange ${input}.`,
    "",
    ...lines,
    "",
    "The score itself was not touched. Export it again when this is mended; the note then goes away.",
    "",
  ].join("\r\n");

export const notOurOutput = (output: string): string =>
  `${output} is there already, and is not as it was last written here: somebody may have worked on it, so it was left as it is. ` +
  "Move it elsewhere or give it another name.";

export const sharedOutput = (input: string, other: string, output: string): string =>
  `${input} and ${other} would both become ${output}. Give one of them another name.`;

export const largerThanRead = (size: number): string =>
  `The file has ${size} bytes, more than are read of any score.`;

export const barredFromReading = (error: unknown): string =>
  `The file cannot be read: ${troubleInWords(error)}.`;

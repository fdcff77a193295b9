import {
  type Arranged,
  type ArrangeOptions,
  compressedScore,
  explanationLines,
  jsonReport,
  performanceOf,
  printXml,
  reportOnFile,
  summaryLines,
} from "undervoice";
import type { FileForm } from "./core-messages.js";
import { midiFile } from "./midi-file.js";

/** An arrangement in the form that was asked for; what the command line writes too is the same to the byte. `name` is the score's. */
export function fileOf(
  form: Exclude<FileForm, "sheet">,
  arranged: Arranged,
  options: ArrangeOptions,
  name: string,
): Uint8Array {
  const { document, sheet, arrangement, report } = arranged;
  const text = (content: string) => new TextEncoder().encode(content);
  switch (form) {
    case "musicxml":
      return text(printXml(document));
    case "mxl":
      return compressedScore(printXml(document));
    case "midi":
      return midiFile(performanceOf(sheet.tune, arrangement, options.tempo), report.title);
    case "report":
      return text(jsonReport(reportOnFile(name, { report, findings: report.findings })));
    case "words":
      return text([...summaryLines(report), ...explanationLines(report), ""].join("\n"));
  }
}

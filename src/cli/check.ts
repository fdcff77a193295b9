import { OPTIONS_FOR } from "../options/options.js";
import type { Command } from "./command.js";
import type { Flag } from "./flags.js";
import { flagList, optionList } from "./help.js";

const FLAGS = {
  json: {
    type: "boolean",
    description: "Prints figures and findings as JSON to standard output in place of lines.",
  },
  quiet: { type: "boolean", short: "q", description: "Prints errors only." },
} as const satisfies Record<string, Flag>;

export const check: Command = {
  usage: "check SCORE [OPTIONS]",
  description: "Says what in a guitar score a hand cannot play or finds hard.",
  details: [
    'SCORE is a MusicXML file with a guitar part, .musicxml, .xml or .mxl; "-" is standard input.',
    "One line a finding: file, measure, beat, how serious it is, what it is. Nothing is written.",
    "",
    "What is printed:",
    flagList(FLAGS),
    "",
    "What is judged by; tuning and capo count where the score states none:",
    optionList(OPTIONS_FOR.check),
  ].join("\n"),
  flags: FLAGS,
  options: OPTIONS_FOR.check,
  refusal: "it judges what is there",
  takes: "files",
  run: async (line, outside) => (await import("./running/check.js")).checkOne(line, outside),
};

import { OPTIONS_FOR } from "../options/options.js";
import type { Command } from "./command.js";
import type { Flag } from "./flags.js";
import { flagList, optionList } from "./help.js";

const FLAGS = {
  json: {
    type: "boolean",
    description: "Prints the survey as JSON to standard output in place of the table.",
  },
} as const satisfies Record<string, Flag>;

export const keys: Command = {
  usage: "keys SCORE [OPTIONS]",
  description: "Says what a lead sheet would be like to play in each of the twelve keys.",
  details: [
    'SCORE is a MusicXML file, .musicxml, .xml or .mxl; "-" is standard input. Nothing is written.',
    "One line for each key, and octave, in which the melody lies on its strings, the easiest first: the one",
    "that arrange --key best takes.",
    "",
    "What is printed:",
    flagList(FLAGS),
    "",
    "What the keys are compared by:",
    optionList(OPTIONS_FOR.keys),
  ].join("\n"),
  flags: FLAGS,
  options: OPTIONS_FOR.keys,
  refusal: "it compares all twelve keys and writes nothing",
  takes: "files",
  run: async (line, outside) => (await import("./running/keys.js")).surveyOne(line, outside),
};

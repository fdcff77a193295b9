import { OPTIONS_FOR } from "../options/options.js";
import type { Command } from "./command.js";
import type { Flag } from "./flags.js";
import { flagList, optionList } from "./help.js";

const FLAGS = {
  output: {
    type: "string",
    short: "o",
    value: "FILE",
    description:
      'Where the guitar score goes: .musicxml, or .mxl for a compressed one; "-" is standard output. Without it INPUT-guitar.musicxml beside the input.',
  },
  report: {
    type: "string",
    value: "FILE",
    description: "Writes the report on the arrangement too: JSON where the name ends in .json, else text.",
  },
  wishes: {
    type: "string",
    value: "FILE",
    description:
      "What you want of the arrangement, as JSON: grips, single notes, fingers, strings or frets to avoid, textures by measure. The rest is arranged around it.",
  },
  explain: {
    type: "boolean",
    description: "Prints for each moment what is played, what was left out and why, and what else could be.",
  },
  json: {
    type: "boolean",
    description: "Prints the report as JSON to standard output in place of the summary.",
  },
  quiet: { type: "boolean", short: "q", description: "Prints errors only." },
} as const satisfies Record<string, Flag>;

export const arrange: Command = {
  usage: "arrange INPUT [-o OUTPUT] [OPTIONS]",
  description: "Arranges one lead sheet for guitar.",
  details: [
    'INPUT is a MusicXML file, .musicxml, .xml or .mxl; "-" is standard input.',
    "",
    "Files and what is printed:",
    flagList(FLAGS),
    "",
    "The arrangement:",
    optionList(),
  ].join("\n"),
  flags: FLAGS,
  options: OPTIONS_FOR.arrange,
  takes: "files",
  run: async (line, outside) => (await import("./running/arrange.js")).arrangeOne(line, outside),
};

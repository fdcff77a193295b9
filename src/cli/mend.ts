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
      'Where the mended lead sheet goes: .musicxml, or .mxl for a compressed one; "-" is standard output. Without it INPUT-mended.musicxml beside the input, where there is anything to mend.',
  },
  json: {
    type: "boolean",
    description: "Prints what was mended and what is left as JSON to standard output in place of the lines.",
  },
  quiet: { type: "boolean", short: "q", description: "Prints errors only." },
} as const satisfies Record<string, Flag>;

export const mend: Command = {
  usage: "mend SCORE [-o OUTPUT] [OPTIONS]",
  description: "Writes an old lead sheet as it was read: typed chords as chord symbols, each in its place.",
  details: [
    'SCORE is a MusicXML file, .musicxml, .xml or .mxl; "-" is standard input.',
    "Typed chords become chord symbols, chords that share a beat get beats of their own, kinds and roots are",
    "named as MusicXML names them, missing divisions and durations are stated. The rest stays as it came.",
    "",
    "Files and what is printed:",
    flagList(FLAGS),
    "",
    "What is read:",
    optionList(OPTIONS_FOR.mend),
  ].join("\n"),
  flags: FLAGS,
  options: OPTIONS_FOR.mend,
  refusal: "it writes the lead sheet alone",
  takes: "files",
  run: async (line, outside) => (await import("./running/mend.js")).mendOne(line, outside),
};

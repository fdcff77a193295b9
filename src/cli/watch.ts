import { OPTIONS_FOR } from "../options/options.js";
import type { Command } from "./command.js";
import type { Flag } from "./flags.js";
import { flagList, optionList } from "./help.js";

const FLAGS = {
  compressed: { type: "boolean", description: "Writes compressed guitar scores (.mxl)." },
  still: {
    type: "string",
    value: "MILLISECONDS",
    description:
      "How long a file has to look the same before it is read. More for slow disks and networks. Default: 750.",
  },
} as const satisfies Record<string, Flag>;

export const watch: Command = {
  usage: "watch FOLDER [OUTPUT_FOLDER] [OPTIONS]",
  description: "Arranges every score that is put into a folder.",
  details: [
    "A score TUNE.musicxml, .xml or .mxl that is exported into FOLDER comes back as TUNE-guitar.musicxml in",
    "OUTPUT_FOLDER, or beside it where none is named. Where it could not be arranged, a note lies there that says",
    "why. Scores are only read; a guitar score that somebody worked on is not replaced.",
    "Ends on an interrupt (Ctrl+C) or when it is told to terminate.",
    "",
    flagList(FLAGS),
    "",
    "The arrangement:",
    optionList(),
  ].join("\n"),
  flags: FLAGS,
  options: OPTIONS_FOR.arrange,
  takes: "folders",
  run: async (line, outside) => (await import("./running/watch.js")).watchUntilTold(line, outside),
};

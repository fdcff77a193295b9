import { OPTIONS_FOR } from "../options/options.js";
import type { Command } from "./command.js";
import type { Flag } from "./flags.js";
import { flagList, optionList } from "./help.js";

const FLAGS = {
  output: {
    type: "string",
    short: "o",
    value: "FOLDER",
    description: "Where guitar scores and the summary go; made where it is missing.",
  },
  compressed: { type: "boolean", description: "Writes compressed guitar scores (.mxl)." },
  resume: {
    type: "boolean",
    description: "Leaves out what was done before, where lead sheet, options and guitar score are unchanged.",
  },
  replace: {
    type: "boolean",
    description: "Replaces guitar scores that were not written by a batch, or that were worked on since.",
  },
  jobs: {
    type: "string",
    short: "j",
    value: "NUMBER",
    description: "Scores worked on at once. Default: as many as there are processors.",
  },
  "time-limit": {
    type: "string",
    value: "SECONDS",
    description: "A score that takes longer is given up. Default: 60.",
  },
  "memory-limit": {
    type: "string",
    value: "MEBIBYTES",
    description: "A score that takes more is given up. Default: 1024.",
  },
  shard: {
    type: "string",
    value: "I/N",
    description: "Does one of N shares of the list, counted from 1, as on one of several machines.",
  },
  "merge-summaries": {
    type: "boolean",
    description: "Arranges nothing: makes one summary of the JSON summaries that are named.",
  },
} as const satisfies Record<string, Flag>;

export const batch: Command = {
  usage: "batch FOLDER|SCORES...|- -o FOLDER [OPTIONS]",
  description: "Arranges a whole shelf of lead sheets.",
  details: [
    "Of a folder, every .musicxml, .xml and .mxl file in it and below; of a file, that one; of -, the files that",
    "standard input lists, one a line. Folders are kept as they are. TUNE.musicxml becomes TUNE-guitar.musicxml, and",
    "batch-summary.json and batch-summary.html say what became of each score and which need an eye first. A score that",
    "cannot be arranged stops no other. Ctrl+C lets the scores in hand be finished, a second time ends at once.",
    "",
    flagList(FLAGS),
    "",
    "The arrangement:",
    optionList(),
  ].join("\n"),
  flags: FLAGS,
  options: OPTIONS_FOR.arrange,
  takes: "files",
  run: async (line, outside) => (await import("./running/batch.js")).runBatchAsTold(line, outside),
};

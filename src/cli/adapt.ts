import { OPTIONS_FOR } from "../options/options.js";
import type { Command } from "./command.js";
import { optionList } from "./help.js";

export const adapt: Command = {
  usage: "adapt MANIFEST [SCORE] [OPTIONS]",
  description: "Works together with a notation program as its manifest says.",
  details: [
    "MANIFEST is a JSON file that says how the program exports and imports, which layout of staves it reads best",
    "and what it drops; plugin-adapters/README.md says how to write one.",
    "A program that exports to a folder: the folder is watched until interrupted (Ctrl+C).",
    "A program that calls a command: SCORE is arranged, and opened where the manifest says so.",
    "",
    "The arrangement, where it is to differ from the manifest:",
    optionList(),
  ].join("\n"),
  flags: {},
  options: OPTIONS_FOR.arrange,
  takes: "files",
  run: async (line, outside) => (await import("./running/adapt.js")).adaptTo(line, outside),
};

import { OPTIONS_FOR } from "../options/options.js";
import type { Command } from "./command.js";
import type { Flag } from "./flags.js";
import { flagList, optionList } from "./help.js";

const FLAGS = {
  output: {
    type: "string",
    short: "o",
    value: "FILE",
    description: "The sheet, .html or .svg. Default: INPUT-sheet.html beside the score, if it is not there.",
  },
  only: {
    type: "string",
    value: "KIND",
    description: "steps or shapes; without it both.",
  },
  wishes: {
    type: "string",
    value: "FILE",
    description: "What you want of single notes and measures, JSON.",
  },
} as const satisfies Record<string, Flag>;

export const sheet: Command = {
  usage: "sheet SCORE [-o FILE] [OPTIONS]",
  description: "Writes a sheet to learn an arrangement by: in steps, and its shapes.",
  details: [
    'SCORE is a MusicXML file, .musicxml, .xml or .mxl; "-" is standard input.',
    "The steps are the melody on its strings, a first draft with a chord for every note, the graceful version, and the",
    "three hardest moves with how to practise them. The shapes are each distinct grip once, by chord and by what the",
    "melody is over it. One file that needs no other, on A4.",
    "",
    "What is written:",
    flagList(FLAGS),
    "",
    "How it is arranged:",
    optionList(OPTIONS_FOR.sheet),
  ].join("\n"),
  flags: FLAGS,
  options: OPTIONS_FOR.sheet,
  refusal: "it writes no score",
  takes: "files",
  run: async (line, outside) => (await import("./running/sheet.js")).writeSheet(line, outside),
};

import type { Command } from "./command.js";
import type { Flag } from "./flags.js";
import { flagList } from "./help.js";
import { USUAL_PORT } from "./service-defaults.js";

const FLAGS = {
  port: {
    type: "string",
    short: "p",
    value: "NUMBER",
    description: `Port of the page; 0 takes any free one. Default: ${USUAL_PORT}, or any free one where it is taken.`,
  },
} as const satisfies Record<string, Flag>;

export const open: Command = {
  usage: "open [SCORE] [--port NUMBER]",
  description: "Opens a page in your browser, on which a score is seen, heard and chosen.",
  details: [
    "SCORE is a MusicXML file, .musicxml, .xml or .mxl; without one the page asks for it. The page works in your",
    "browser, and the score does not leave this machine. Ends on an interrupt (Ctrl+C).",
    "",
    flagList(FLAGS),
  ].join("\n"),
  flags: FLAGS,
  options: [],
  refusal: "the page itself asks for the options",
  takes: "files",
  run: async (line, outside) => (await import("./running/open.js")).openUntilTold(line, outside),
};

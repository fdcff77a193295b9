import type { Command } from "./command.js";
import type { Flag } from "./flags.js";
import { flagList } from "./help.js";
import { TOKEN_VARIABLE, USUAL_PORT } from "./service-defaults.js";

const FLAGS = {
  port: {
    type: "string",
    short: "p",
    value: "NUMBER",
    description: `Port of the service; 0 takes any free one. Default: ${USUAL_PORT}.`,
  },
  token: {
    type: "string",
    value: "TEXT",
    description: `What a client has to know, sent as "Authorization: Bearer TEXT". The environment variable ${TOKEN_VARIABLE} does the same and shows in no list of processes. Default: none.`,
  },
} as const satisfies Record<string, Flag>;

export const serve: Command = {
  usage: "serve [--port NUMBER] [--token TEXT]",
  description: "Arranges scores for other programs on this machine, over HTTP.",
  details: [
    "Listens on the loopback addresses only; no other machine gets an answer. GET / lists what there is; a browser",
    "gets a page there, on which scores are seen, heard and chosen.",
    "Ends on an interrupt (Ctrl+C) or when it is told to terminate.",
    "",
    flagList(FLAGS),
  ].join("\n"),
  flags: FLAGS,
  options: [],
  refusal: "each request brings its own options",
  takes: "nothing",
  run: async (line, outside) => (await import("./running/serve.js")).serveUntilTold(line, outside),
};

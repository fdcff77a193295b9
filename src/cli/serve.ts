import type { WaitingScore } from "#built/server/waiting-score.js";
import { builtPage } from "./built-page.js";
import type { Command } from "./command.js";
import { type Flag, flagNameOf, parseLine, UsageError } from "./flags.js";
import { flagList } from "./help.js";
import type { Outside } from "./outside.js";
import { toldToEnd } from "./told-to-end.js";
import { VERSION } from "./version.js";

/** Where the service listens if nothing else is said. A port that no well-known service has. */
const USUAL_PORT = 8713;
const HIGHEST_PORT = 65_535;

/** In place of the flag: other people on the machine can see a command line, but not an environment. */
const TOKEN_VARIABLE = "UNDERVOICE_TOKEN";

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
  takes: "nothing",
  run: serveUntilTold,
};

async function serveUntilTold(words: readonly string[], outside: Outside) {
  const { port, token } = wishesIn(words);
  const service = await startedService(port, token, outside);
  outside.toStandardOutput(`Listening at http://127.0.0.1:${service.port}/ until interrupted.\n`);
  await toldToEnd();
  await service.close();
  return "done" as const;
}

/** @throws UsageError where a word, a port or a token makes no sense */
function wishesIn(words: readonly string[]): { readonly port: number; readonly token: string | undefined } {
  const { flags, options, words: others } = parseLine(words, FLAGS);
  const [stray] = [...others, ...Object.keys(options).map((name) => `--${flagNameOf(name)}`)];
  if (stray !== undefined)
    throw new UsageError(`serve takes no ${stray}; each request brings its own options`);
  const port = flags.port === undefined ? USUAL_PORT : portFrom(flags.port);
  const token = typeof flags.token === "string" ? flags.token : process.env[TOKEN_VARIABLE];
  if (token !== undefined && !/^[!-~]+$/.test(token))
    throw new UsageError("a token is one or more plain signs without blanks");
  return { port, token };
}

/** @throws UsageError where the words are no port */
export function portFrom(words: unknown): number {
  const port = Number(words);
  if (Number.isInteger(port) && port >= 0 && port <= HIGHEST_PORT && words !== "") return port;
  throw new UsageError(`--port takes a whole number from 0 to ${HIGHEST_PORT}, not "${words}"`);
}

/** @throws UsageError where the port is taken or not permitted */
export async function startedService(
  port: number,
  token: string | undefined,
  outside: Outside,
  waiting?: WaitingScore,
) {
  const { startService } = await import("#built/server/service.js");
  const page = await builtPage();
  const onMistake = (error: unknown) =>
    outside.toStandardError(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
  try {
    return await startService({ version: VERSION, port, token, page, waiting, onMistake });
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "EADDRINUSE") throw new UsageError(`port ${port} is taken; name another with --port`);
    if (code === "EACCES") throw new UsageError(`port ${port} is not permitted; name another with --port`);
    throw error;
  }
}

import type { WaitingScore } from "#built/server/waiting-score.js";
import { VERSION } from "../../version.js";
import { type ParsedLine, UsageError } from "../flags.js";
import type { Outside } from "../outside.js";
import { TOKEN_VARIABLE, USUAL_PORT } from "../service-defaults.js";
import { toldToEnd } from "../told-to-end.js";
import { builtPage } from "./built-page.js";

const HIGHEST_PORT = 65_535;

export async function serveUntilTold(line: ParsedLine, outside: Outside) {
  const { port, token } = wishesIn(line);
  const service = await startedService(port, token, outside);
  outside.toStandardOutput(`Listening at http://127.0.0.1:${service.port}/ until interrupted.\n`);
  await toldToEnd();
  await service.close();
  return "done" as const;
}

/** @throws UsageError where a word, a port or a token makes no sense */
function wishesIn({ flags, words: others }: ParsedLine) {
  const [stray] = others;
  if (stray !== undefined) throw new UsageError(`serve takes no ${stray}; each request brings its own score`);
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

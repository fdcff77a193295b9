import { spawn } from "node:child_process";
import { randomUUID } from "node:crypto";
import { basename } from "node:path";
import type { WaitingScore } from "#built/server/waiting-score.js";
import { type ParsedLine, UsageError } from "../flags.js";
import type { Outside } from "../outside.js";
import { USUAL_PORT } from "../service-defaults.js";
import { toldToEnd } from "../told-to-end.js";
import { portFrom, startedService } from "./serve.js";

export async function openUntilTold({ flags, words: scores }: ParsedLine, outside: Outside) {
  if (scores.length > 1) throw new UsageError(`open takes at most one score, and there are ${scores.length}`);
  const waiting = await scoreIn(scores[0], outside);
  const service =
    flags.port === undefined
      ? await startedService(USUAL_PORT, undefined, outside, waiting).catch((error: unknown) => {
          if (error instanceof UsageError) return startedService(0, undefined, outside, waiting);
          throw error;
        })
      : await startedService(portFrom(flags.port), undefined, outside, waiting);
  const address = `http://127.0.0.1:${service.port}/${waiting === undefined ? "" : `#${waiting.word}/${encodeURIComponent(waiting.name)}`}`;
  outside.toStandardOutput(`The page is at ${address} until interrupted.\n`);
  openInBrowser(address, (why) =>
    outside.toStandardError(`undervoice: no browser could be opened (${why}); open the address yourself.\n`),
  );
  await toldToEnd();
  await service.close();
  return "done" as const;
}

async function scoreIn(path: string | undefined, outside: Outside): Promise<WaitingScore | undefined> {
  if (path === undefined) return undefined;
  return { name: basename(path), bytes: await outside.read(path), word: randomUUID() };
}

/** What opens an address in the person's own browser. */
const OPENERS: Partial<Record<NodeJS.Platform, readonly [command: string, ...words: string[]]>> = {
  darwin: ["open"],
  win32: ["rundll32", "url.dll,FileProtocolHandler"],
};

function openInBrowser(address: string, failed: (why: string) => void): void {
  const [command, ...words] = OPENERS[process.platform] ?? ["xdg-open"];
  const child = spawn(command, [...words, address], { stdio: "ignore", detached: true });
  child.once("error", (error) => failed(error.message));
  child.once("exit", (status) => {
    if (status !== 0 && status !== null) failed(`${command} ended with status ${status}`);
  });
  child.unref();
}

import { spawn } from "node:child_process";
import { randomUUID } from "node:crypto";
import { basename } from "node:path";
import type { WaitingScore } from "#built/server/waiting-score.js";
import type { Command } from "./command.js";
import { type Flag, flagNameOf, parseLine, UsageError } from "./flags.js";
import { flagList } from "./help.js";
import type { Outside } from "./outside.js";
import { portFrom, startedService } from "./serve.js";
import { toldToEnd } from "./told-to-end.js";

const FLAGS = {
  port: {
    type: "string",
    short: "p",
    value: "NUMBER",
    description: "Port of the page. Default: any free one.",
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
  takes: "files",
  run: openUntilTold,
};

async function openUntilTold(words: readonly string[], outside: Outside) {
  const { flags, options, words: scores } = parseLine(words, FLAGS);
  const [stray] = [...Object.keys(options).map((name) => `--${flagNameOf(name)}`), ...scores.slice(1)];
  if (stray !== undefined)
    throw new UsageError(`open takes one score and no ${stray}; the page itself asks for the options`);
  const port = flags.port === undefined ? 0 : portFrom(flags.port);
  const waiting = await scoreIn(scores[0], outside);
  const service = await startedService(port, undefined, outside, waiting);
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

import { spawn } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";
import type { Host } from "#built/plugin-adapters/host/host.js";
import type { HostRun } from "#built/plugin-adapters/host/run-host.js";
import { completeOptions, OptionsError } from "../../options/option-checking.js";
import { EXIT_CODES, type Outcome } from "../exit-codes.js";
import { type ParsedLine, UsageError } from "../flags.js";
import { FileTrouble, type Outside } from "../outside.js";
import { refusalText } from "./refusal-text.js";
import { watchPair } from "./watch.js";

export async function adaptTo({ options, words: files }: ParsedLine, outside: Outside): Promise<Outcome> {
  const [manifest, score] = files;
  if (manifest === undefined || files.length > 2)
    throw new UsageError(`adapt takes a manifest and at most one score, and there are ${files.length} files`);
  const host = await hostIn(manifest, outside);
  const { hostRun, optionsOf, lossesOf } = await import("#built/plugin-adapters/host/run-host.js");
  const wished = { ...optionsOf(host), ...options };
  try {
    // Checked before anything is started, whatever kind of host it is.
    const whole = completeOptions(wished);
    const run = hostRun(host, manifest);
    if (run.kind === "script") throw new UsageError(scriptAdvice(host, run, wished));
    for (const line of lossesOf(host)) outside.toStandardError(`${host.name}: ${line}\n`);
    if (run.kind === "command") return await runCommand(run, score, wished, manifest);
    if (score !== undefined)
      throw new UsageError(`${manifest} names a folder to watch, and takes no score on the command line`);
    return await watchPair({ ...run, options: whole, stillMs: undefined }, outside);
  } catch (error) {
    if (!(error instanceof OptionsError)) throw error;
    outside.toStandardError(refusalText(error.findings));
    return "wronglyAsked";
  }
}

/** @throws UsageError where the manifest cannot be used */
async function hostIn(manifest: string, outside: Outside): Promise<Host> {
  const { HostError, readHost } = await import("#built/plugin-adapters/host/read-host.js");
  const json = new TextDecoder().decode(await outside.read(manifest));
  try {
    return readHost(json);
  } catch (error) {
    if (!(error instanceof HostError)) throw error;
    throw new UsageError(
      `the manifest cannot be used:\n${error.lines.map((line) => `  ${manifest}: ${line}`).join("\n")}`,
    );
  }
}

function scriptAdvice(
  host: Host,
  { file, service }: Extract<HostRun, { kind: "script" }>,
  options: Readonly<Record<string, unknown>>,
): string {
  const wishes = { ...(service === undefined ? {} : { service }), options };
  return [
    `${host.name} runs scripts itself; there is nothing to run here.`,
    `  Start "undervoice serve", load ${file} in it and call`,
    `  undervoiceRoundTrip(host, ${JSON.stringify(wishes)}, done)`,
  ].join("\n");
}

/** The command adapter is a script of the system's own shell; this program is what it arranges with. */
async function runCommand(
  { program, words }: Extract<HostRun, { kind: "command" }>,
  score: string | undefined,
  options: Readonly<Record<string, unknown>>,
  manifest: string,
): Promise<Outcome> {
  if (score === undefined)
    throw new UsageError(`${manifest} is of a program that calls a command: which score?`);
  const pairs = Object.entries(options).map(([name, value]) => `${name}=${value}`);
  const child = spawn(program, [...words, score, ...pairs], {
    stdio: ["ignore", "inherit", "inherit"],
    env: {
      ...process.env,
      UNDERVOICE_NODE: process.execPath,
      UNDERVOICE_MAIN: fileURLToPath(new URL("main.js", import.meta.url)),
    },
  });
  const [status] = (await once(child, "exit").catch((error: unknown) => {
    throw new FileTrouble(program, "run", error);
  })) as [number | null];
  return outcomeOf(status);
}

/** The script ends as "undervoice arrange" does. */
const outcomeOf = (status: number | null): Outcome =>
  (Object.keys(EXIT_CODES) as Outcome[]).find((outcome) => EXIT_CODES[outcome].code === status) ??
  "fileTrouble";

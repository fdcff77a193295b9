import { type ChildProcess, execFileSync, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, readdirSync, realpathSync, rmSync } from "node:fs";
import { type IncomingMessage, request } from "node:http";
import { connect } from "node:net";
import { networkInterfaces, tmpdir } from "node:os";
import { join } from "node:path";
import { text } from "node:stream/consumers";
import { fileURLToPath } from "node:url";
import { afterAll, expect, test, vi } from "vitest";
import { SHORT_TUNE } from "./service-in-test.js";

/** The program as it is installed; `npm test` builds it first. */
const CHECKOUT = fileURLToPath(new URL("../../", import.meta.url));
const MAIN = join(CHECKOUT, "dist/cli/main.js");

const folder = mkdtempSync(join(tmpdir(), "undervoice-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const running: ChildProcess[] = [];
afterAll(() => {
  for (const process of running) process.kill("SIGKILL");
});

/** Starts the program with these words; `said` is what it has printed so far. */
function started(
  words: readonly string[],
  { node = [] as readonly string[], token = "", isGroup = false } = {},
) {
  const { UNDERVOICE_TOKEN: _other, ...environment } = process.env;
  const child = spawn(process.execPath, [...node, MAIN, ...words], {
    cwd: folder,
    detached: isGroup,
    env: token === "" ? environment : { ...environment, UNDERVOICE_TOKEN: token },
    stdio: ["ignore", "pipe", "pipe"],
  });
  running.push(child);
  let said = "";
  const ended = once(child, "exit").then(([status]) => status as number | null);
  const listening = new Promise<number>((resolve, reject) => {
    const hear = (bytes: Buffer) => {
      said += bytes.toString();
      const port = /http:\/\/127\.0\.0\.1:(\d+)\//.exec(said)?.[1];
      if (port !== undefined) resolve(Number(port));
    };
    child.stdout.on("data", hear);
    child.stderr.on("data", hear);
    child.on("exit", () => reject(new Error(`ended: ${said}`)));
  });
  listening.catch(() => undefined);
  return { child, listening, ended, said: () => said };
}

const arrange = (port: number, headers: Readonly<Record<string, string>> = {}) =>
  fetch(`http://127.0.0.1:${port}/arrangements`, {
    method: "POST",
    headers: { "Content-Type": "application/octet-stream", ...headers },
    body: SHORT_TUNE,
  });

const isReached = (host: string, port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const socket = connect({ host, port, timeout: 2_000 });
    const say = (answer: boolean) => {
      socket.destroy();
      resolve(answer);
    };
    socket
      .on("connect", () => say(true))
      .on("error", () => say(false))
      .on("timeout", () => say(false));
  });

test("the program serves until it is interrupted, and then ends well", async () => {
  const { child, listening, ended } = started(["serve", "--port", "0"]);
  const answer = await arrange(await listening);
  expect(answer.status).toBe(200);
  expect(await answer.text()).toContain("<sign>TAB</sign>");
  child.kill("SIGINT");
  expect(await ended).toBe(0);
});

test.skipIf(process.platform === "win32")(
  "an interrupt from the keyboard, which reaches the workers too, lets the score in hand be done",
  async () => {
    const { child, listening, ended } = started(["serve", "--port", "0"], { isGroup: true });
    const port = await listening;
    const group = -(child.pid ?? 0);
    expect((await arrange(port)).status).toBe(200);
    const others = workersOf(child);
    expect(others.length).toBeGreaterThan(0);
    // One has answered; a second that is still starting does not know what to do with an interrupt yet.
    const answers = await Promise.all(others.map(() => arrange(port)));
    expect(answers.map(({ status }) => status)).toEqual(others.map(() => 200));
    for (const worker of others) process.kill(worker, "SIGINT");
    expect((await arrange(port)).status).toBe(200);
    expect(workersOf(child)).toEqual(others);
    process.kill(group, "SIGINT");
    expect(await ended).toBe(0);
    await expect.poll(() => others.filter(isRunning), { timeout: 20_000 }).toEqual([]);
  },
);

/** Processes that a process has started. */
const workersOf = ({ pid }: ChildProcess): readonly number[] =>
  execFileSync("ps", ["-e", "-o", "pid=,ppid="], { encoding: "utf8" })
    .split("\n")
    .map((line) => line.trim().split(/\s+/).map(Number))
    .flatMap(([child = 0, parent]) => (parent === pid ? [child] : []));

function isRunning(processId: number): boolean {
  try {
    return process.kill(processId, 0);
  } catch {
    return false;
  }
}

test("a request that was begun is answered before the program ends", async () => {
  const { child, listening, ended } = started(["serve", "--port", "0"]);
  const port = await listening;
  const asked = request({ host: "127.0.0.1", port, path: "/arrangements", method: "POST" });
  const answered = once(asked, "response") as Promise<[IncomingMessage]>;
  asked.setHeader("Content-Type", "application/octet-stream");
  asked.setHeader("Content-Length", Buffer.byteLength(SHORT_TUNE));
  asked.write(SHORT_TUNE.slice(0, 100));
  await vi.waitFor(async () => expect(await isReached("127.0.0.1", port)).toBe(true));
  child.kill("SIGTERM");
  await vi.waitFor(async () => expect(await isReached("127.0.0.1", port)).toBe(false), { timeout: 10_000 });
  asked.end(SHORT_TUNE.slice(100));
  const [answer] = await answered;
  expect(answer.statusCode).toBe(200);
  expect(await text(answer)).toContain("<sign>TAB</sign>");
  expect(await ended).toBe(0);
});

test("it listens where this machine alone can reach it", async () => {
  const { child, listening } = started(["serve", "--port", "0"]);
  const port = await listening;
  expect(await isReached("127.0.0.1", port)).toBe(true);
  // The whole of 127.0.0.0/8 is this machine, but only a socket open to every address answers there.
  const others = Object.values(networkInterfaces()).flatMap((all) =>
    (all ?? []).filter(({ internal, scopeid }) => !internal && !scopeid).map(({ address }) => address),
  );
  for (const address of ["127.0.0.2", ...others]) expect(await isReached(address, port), address).toBe(false);
  child.kill("SIGTERM");
});

test("a second service at the same port is told that the port is taken", async () => {
  const { child, listening } = started(["serve", "--port", "0"]);
  const port = await listening;
  const second = started(["serve", "--port", String(port)]);
  expect(await second.ended).toBe(2);
  expect(second.said()).toContain(`port ${port} is taken`);
  child.kill("SIGTERM");
});

test.each([
  [["--token", "three-blind-mice"], ""],
  [[], "three-blind-mice"],
])("the token comes by the flag or by the environment", async (flags, token) => {
  const { child, listening } = started(["serve", "--port", "0", ...flags], { token });
  const port = await listening;
  expect((await arrange(port)).status).toBe(401);
  expect((await arrange(port, { Authorization: "Bearer three-blind-mice" })).status).toBe(200);
  child.kill("SIGTERM");
});

test.each([
  ["--port", "many"],
  ["--port", "70000"],
  ["--port", ""],
  ["--token", "two words"],
  ["--token", ""],
  ["--texture", "full"],
  ["tune.musicxml"],
])("serve %s %s is refused", async (...words) => {
  const { ended, said } = started(["serve", ...words]);
  expect(await ended).toBe(2);
  expect(said()).toMatch(/^undervoice: /);
});

test("a service that may write no file at all, and read only its own, does all its work", async () => {
  const permission =
    Number(process.versions.node.split(".")[0]) >= 23 ? "--permission" : "--experimental-permission";
  // The packages may stand elsewhere, behind a link.
  const readable = [`${CHECKOUT}*`, `${realpathSync(join(CHECKOUT, "node_modules"))}/*`];
  const { child, listening, said } = started(["serve", "--port", "0"], {
    node: [permission, "--allow-child-process", ...readable.map((path) => `--allow-fs-read=${path}`)],
  });
  const port = await listening;
  const boundary = "between-two-parts";
  const hostile =
    `--${boundary}\r\nContent-Disposition: attachment; name="score"; filename="../../../escaped.musicxml"\r\n` +
    `Content-Type: application/xml\r\n\r\n${SHORT_TUNE}\r\n--${boundary}--\r\n`;
  const answer = await fetch(`http://127.0.0.1:${port}/arrangements`, {
    method: "POST",
    headers: { "Content-Type": `multipart/mixed; boundary=${boundary}` },
    body: hostile,
  });
  expect(answer.status, said()).toBe(200);
  expect(await answer.text()).not.toContain("escaped");
  expect((await arrange(port, { Accept: "application/vnd.recordare.musicxml" })).status).toBe(200);
  expect(readdirSync(folder)).toEqual([]);
  child.kill("SIGTERM");
});

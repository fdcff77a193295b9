import request from "supertest";
import { describe, expect, test } from "vitest";
import type { ServiceLimits } from "../../server/limits.js";
import { rawAnswer, rawSocket, requestOf } from "./raw-socket.js";
import { appInTest, portInTest, STUBBORN_WORKER } from "./service-in-test.js";

const LIMITS = { plainBytes: 100_000, zippedBytes: 50_000 } as const;

const port = await portInTest({ limits: LIMITS, workerFile: STUBBORN_WORKER });
const head = (...lines: readonly string[]) => headAt(port, ...lines);
const headAt = (at: number, ...lines: readonly string[]) =>
  requestOf(
    "POST /arrangements HTTP/1.1",
    `Host: localhost:${at}`,
    "Content-Type: application/octet-stream",
    ...lines,
  );
const chunk = (content: string) => `${content.length.toString(16)}\r\n${content}\r\n`;
const problemIn = (answer: string) => JSON.parse(answer.slice(answer.indexOf("\r\n\r\n")).trim());

describe("a body that is too large", () => {
  test("is refused by what it says of itself, before any of it has come", async () => {
    const answer = await rawAnswer(port, head("Content-Length: 100001"));
    expect(answer).toMatch(/^HTTP\/1\.1 413 /);
    expect(answer).toMatch(/\r\nConnection: close\r\n/);
    expect(problemIn(answer).findings).toMatchObject([{ rule: "too-large" }]);
  });

  test("is refused by its bytes where it says nothing", async () => {
    const { socket, until, ended } = rawSocket(port);
    socket.write(head("Transfer-Encoding: chunked"));
    for (let sent = 0; sent <= LIMITS.plainBytes; sent += 10_000) socket.write(chunk("a".repeat(10_000)));
    expect(await until("too-large")).toMatch(/^HTTP\/1\.1 413 /);
    expect(await ended).toMatch(/\r\nConnection: close\r\n/);
  });

  test("that is a zip is refused sooner", async () => {
    const { socket, until } = rawSocket(port);
    socket.write(head("Transfer-Encoding: chunked") + chunk("P") + chunk(`K${"a".repeat(50_000)}`));
    expect(await until("too-large")).toMatch(/^HTTP\/1\.1 413 /);
  });

  test("that never ends is not read for ever", async () => {
    // The limit of the whole request would end it too, but late.
    const { socket, ended } = rawSocket(port);
    socket.write(head("Transfer-Encoding: chunked"));
    const begun = performance.now();
    const sending = setInterval(() => socket.write(chunk("a".repeat(20_000))), 5);
    const answer = await ended;
    clearInterval(sending);
    expect(answer).toMatch(/^HTTP\/1\.1 413 /);
    expect(performance.now() - begun).toBeLessThan(10_000);
  });

  test("reaches its sender as an answer even where the sender looks only when all of it is out", async () => {
    const patient = await portInTest({
      limits: { ...LIMITS, lingerMs: 10_000 },
      workerFile: STUBBORN_WORKER,
    });
    const { socket, until } = rawSocket(patient);
    socket.pause();
    const body = "a".repeat(20_000_000);
    socket.write(headAt(patient, `Content-Length: ${body.length}`));
    await new Promise((resolve) => socket.write(body, resolve));
    socket.resume();
    expect(await until("too-large")).toMatch(/^HTTP\/1\.1 413 /);
  });

  test("that is as large as may be is taken", async () => {
    const answer = await rawAnswer(
      port,
      head("Content-Length: 100000", "Connection: close") + "a".repeat(100_000),
    );
    expect(answer).toMatch(/^HTTP\/1\.1 200 /);
  });

  test("hides nothing behind a length that is too small", async () => {
    const answer = await rawAnswer(port, `${head("Content-Length: 4")}done${"a".repeat(300_000)}`);
    expect(answer).toMatch(/HTTP\/1\.1 400 /);
  });
});

test("bodies that together are too large are refused until there is room again", async () => {
  const app = appInTest({
    limits: { heldBytes: 100_000, retryAfterSeconds: 7 },
    workerFile: STUBBORN_WORKER,
  });
  const send = (word: string) =>
    request(app)
      .post("/arrangements")
      .set("Content-Type", "application/octet-stream")
      .send(word.padEnd(60_000, " "));
  const first = send("work 700").then((answer) => answer.status);
  await new Promise((resolve) => setTimeout(resolve, 200));
  const second = await send("done");
  expect(second.status).toBe(503);
  expect(second.get("Retry-After")).toBe("7");
  expect(await first).toBe(200);
  expect((await send("done")).status).toBe(200);
});

describe("a connection", () => {
  const timed = async (work: Promise<string>) => {
    const begun = performance.now();
    const answer = await work;
    return { answer, milliseconds: performance.now() - begun };
  };

  /** An answer later than this was ended by another limit than the one a test is about. */
  const SOON_MS = 10_000;
  const hasty = (limits: Partial<ServiceLimits>) => portInTest({ limits, workerFile: STUBBORN_WORKER });

  test("whose headers drip in is ended", async () => {
    const at = await hasty({ headersMs: 400 });
    const { socket, ended } = rawSocket(at);
    socket.write(`GET /health HTTP/1.1\r\nHost: localhost:${at}\r\n`);
    const dripping = setInterval(() => socket.write("X-Drip: drop\r\n"), 50);
    const { answer, milliseconds } = await timed(ended);
    clearInterval(dripping);
    expect(answer).toMatch(/^HTTP\/1\.1 408 /);
    expect(milliseconds).toBeLessThan(SOON_MS);
  });

  test("whose body drips in is ended", async () => {
    const at = await hasty({ headersMs: 900, requestMs: 900 });
    const { socket, ended } = rawSocket(at);
    socket.write(headAt(at, "Content-Length: 5000"));
    const dripping = setInterval(() => socket.write("a"), 50);
    const { answer, milliseconds } = await timed(ended);
    clearInterval(dripping);
    expect(answer).not.toMatch(/^HTTP\/1\.1 200 /);
    expect(milliseconds).toBeLessThan(SOON_MS);
  });

  test("on which nothing is asked is ended", async () => {
    const at = await hasty({ idleMs: 500 });
    const { socket, ended } = rawSocket(at);
    socket.write(requestOf("GET /health HTTP/1.1", `Host: localhost:${at}`));
    const { answer, milliseconds } = await timed(ended);
    expect(answer).toMatch(/^HTTP\/1\.1 200 /);
    expect(milliseconds).toBeLessThan(SOON_MS);
  });

  test("beyond as many as are held is ended at once", async () => {
    const narrow = await portInTest({ limits: { connections: 2 }, workerFile: STUBBORN_WORKER });
    const opened = [rawSocket(narrow), rawSocket(narrow)];
    await Promise.all(opened.map(({ socket }) => new Promise((resolve) => socket.once("connect", resolve))));
    expect(await rawSocket(narrow).ended).toBe("");
    for (const { socket } of opened) socket.destroy();
  });

  test("with headers beyond measure is refused", async () => {
    const answer = await rawAnswer(
      port,
      requestOf("GET /health HTTP/1.1", `Host: localhost:${port}`, `X-Long: ${"a".repeat(20_000)}`),
    );
    expect(answer).toMatch(/^HTTP\/1\.1 431 /);
  });
});

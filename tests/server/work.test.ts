import request from "supertest";
import { describe, expect, test } from "vitest";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { rawSocket, requestOf } from "./raw-socket.js";
import { appInTest, portInTest, STUBBORN_WORKER } from "./service-in-test.js";

/** Longer than any test may take: work that is never done. */
const FOR_EVER = "work 600000";

type App = ReturnType<typeof appInTest>;

const ask = (app: App, work: string) =>
  request(app).post("/arrangements").set("Content-Type", "application/octet-stream").send(work);

const state = async (app: App) => (await request(app).get("/health")).body;

/** Waits until the service says so of itself. */
async function until(app: App, wanted: { readonly working?: number; readonly waiting?: number }) {
  for (;;) {
    const now = await state(app);
    if (Object.entries(wanted).every(([name, value]) => now[name] === value)) return;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

test("the service says that it runs while it arranges", async () => {
  const app = appInTest();
  const bars =
    "[C] G4/8 E4/8 A4/8 E4/8 [Am7] G4/8 E4/8 C5/8 B4/8 | [Dm7] A4/8 F4/8 D4/8 F4/8 [G7] B4/4 D5/4 |\n";
  const tune = leadSheetFromText(
    `title: Long Walk\nkey: 0 major\ntime: 4/4\n\n${bars.repeat(16)} [C] C5/1 ||\n`,
  );
  let isArranged = false;
  const arranging = ask(app, tune).then((answer) => {
    isArranged = true;
    return answer.status;
  });
  await until(app, { working: 1 });
  for (let asked = 0; asked < 5; asked++) expect((await state(app)).status).toBe("ok");
  expect(isArranged).toBe(false);
  expect(await arranging).toBe(200);
});

test("work that takes too long is stopped, and the next score is worked on", async () => {
  const app = appInTest({ limits: { workMs: 1_500, retryAfterSeconds: 7 }, workerFile: STUBBORN_WORKER });
  const late = await ask(app, FOR_EVER);
  expect(late.status).toBe(503);
  expect(late.get("Retry-After")).toBe("7");
  expect(late.body.findings).toMatchObject([{ rule: "work-too-long" }]);
  await ask(app, "done").expect(200);
});

test("work that takes too much memory is stopped, and the next score is worked on", async () => {
  const app = appInTest({ limits: { workerMemoryMb: 64 }, workerFile: STUBBORN_WORKER });
  const answer = await ask(app, "eat");
  expect(answer.status).toBe(413);
  expect(answer.body.findings).toMatchObject([{ rule: "work-too-heavy" }]);
  await ask(app, "done").expect(200);
});

test("a mistake of the service is said to be one, without its inner parts", async () => {
  const mistakes: unknown[] = [];
  const app = appInTest({ workerFile: STUBBORN_WORKER, mistakes });
  const answer = await ask(app, "fail");
  expect(answer.status).toBe(500);
  expect(answer.body.findings).toMatchObject([{ rule: "own-mistake" }]);
  expect(answer.text).not.toMatch(/as it was told|\.js/);
  expect(mistakes).toMatchObject([{ message: "this worker fails as it was told" }]);
});

test("when as many scores wait as may, the next one is told to come again", async () => {
  const app = appInTest({ limits: { waiting: 1, retryAfterSeconds: 7 }, workerFile: STUBBORN_WORKER });
  const first = ask(app, "work 1500").then((answer) => answer.status);
  await until(app, { working: 1 });
  const second = ask(app, "done").then((answer) => answer.status);
  await until(app, { working: 1, waiting: 1 });
  const third = await ask(app, "done");
  expect(third.status).toBe(503);
  expect(third.get("Retry-After")).toBe("7");
  expect(third.body.findings).toMatchObject([{ rule: "service-busy" }]);
  expect(await Promise.all([first, second])).toEqual([200, 200]);
});

describe("when a client hangs up", async () => {
  const mistakes: unknown[] = [];
  const tested = { workerFile: STUBBORN_WORKER, mistakes };
  const port = await portInTest(tested);
  const post = (work: string) =>
    requestOf(
      "POST /arrangements HTTP/1.1",
      `Host: localhost:${port}`,
      "Content-Type: application/octet-stream",
      `Content-Length: ${work.length}`,
    ) + work;
  const healthNow = async () => (await fetch(`http://127.0.0.1:${port}/health`)).json();
  const untilNow = async (wanted: object) => {
    while (
      JSON.stringify(await healthNow()) !== JSON.stringify({ status: "ok", version: "1.2.3", ...wanted })
    )
      await new Promise((resolve) => setTimeout(resolve, 20));
  };

  test("the work for it stops, and another is served in its place", async () => {
    const leaving = rawSocket(port);
    leaving.socket.write(post(FOR_EVER));
    await untilNow({ working: 1, waiting: 0 });
    leaving.socket.destroy();
    await untilNow({ working: 0, waiting: 0 });
    const staying = rawSocket(port);
    staying.socket.write(post("done"));
    expect(await staying.until("done")).toMatch(/^HTTP\/1\.1 200 /);
    staying.socket.destroy();
  });

  test("its place in the queue is free again", async () => {
    const worked = rawSocket(port);
    worked.socket.write(post(FOR_EVER));
    await untilNow({ working: 1, waiting: 0 });
    const leaving = rawSocket(port);
    leaving.socket.write(post(FOR_EVER));
    await untilNow({ working: 1, waiting: 1 });
    leaving.socket.destroy();
    await untilNow({ working: 1, waiting: 0 });
    worked.socket.destroy();
    await untilNow({ working: 0, waiting: 0 });
  });

  test("in the middle of its body, nothing is begun and nothing is called a mistake", async () => {
    const leaving = rawSocket(port);
    leaving.socket.write(post(FOR_EVER).slice(0, -3));
    await new Promise((resolve) => setTimeout(resolve, 100));
    leaving.socket.destroy();
    await untilNow({ working: 0, waiting: 0 });
    expect(mistakes).toEqual([]);
  });
});

import { readFileSync } from "node:fs";
import request from "supertest";
import { expect, test } from "vitest";
import { SERVICE_LIMITS } from "../../server/limits.js";
import { appInTest, SHORT_TUNE } from "./service-in-test.js";

const page = readFileSync(new URL("../../docs/service.md", import.meta.url), "utf8");
const app = appInTest();

test("the page lists the resources there are, and no others", async () => {
  const { body } = await request(app).get("/");
  const there = body.resources.map(({ method, path }: Record<string, string>) => `${method} ${path}`);
  const listed = [...page.matchAll(/^\| `((?:GET|POST) [^`]+)` \|/gm)].map(([, resource]) => resource);
  expect(listed.toSorted()).toEqual(there.toSorted());
});

test("the page shows a refusal as it comes", async () => {
  const [, shown = ""] = /```json\n([\s\S]*?)```/.exec(page) ?? [];
  const answer = await request(app)
    .post("/arrangements?texture=thick")
    .set("Content-Type", "application/octet-stream")
    .send(SHORT_TUNE);
  expect(JSON.parse(shown)).toEqual(answer.body);
});

test("the page gives the limits the service has", () => {
  const megabytes = (bytes: number) => `${bytes / 1_000_000} MB`;
  const { plainBytes, zippedBytes, heldBytes, waiting, workMs, headersMs, requestMs, idleMs, connections } =
    SERVICE_LIMITS;
  for (const text of [
    `${megabytes(plainBytes)}, ${megabytes(zippedBytes)}, counted`,
    `together | ${megabytes(heldBytes)}`,
    `wait | ${waiting}, then 503`,
    `${workMs / 1000} s, then 503; ${SERVICE_LIMITS.workerMemoryMb / 1024} GiB`,
    `${headersMs / 1000} s, ${requestMs / 1000} s`,
    `asked | ${idleMs / 1000} s`,
    `${connections} on each address`,
  ])
    expect(page).toContain(text);
});

import request from "supertest";
import { describe, expect, test } from "vitest";
import { rawAnswer, requestOf } from "./raw-socket.js";
import { appInTest, portInTest, SHORT_TUNE } from "./service-in-test.js";

const port = await portInTest();
const app = appInTest();

const MUSICXML = "application/vnd.recordare.musicxml+xml";

/** The status line's number. */
const statusOf = (answer: string): number => Number(/^HTTP\/1\.1 (\d+)/.exec(answer)?.[1]);

const health = (...lines: readonly string[]): Promise<string> =>
  rawAnswer(port, requestOf("GET /health HTTP/1.1", ...lines, "Connection: close"));

describe("a name that is pointed at this machine from outside", () => {
  test.each([
    ["a name of the web", () => "tunes.example"],
    ["a name of the web with our port", () => `tunes.example:${port}`],
    ["our address without our port", () => "127.0.0.1"],
    ["our address with another port", () => `127.0.0.1:${port + 1}`],
    ["our name with something behind it", () => `localhost.tunes.example:${port}`],
    ["another address of this machine", () => `127.0.0.2:${port}`],
    ["every address", () => `0.0.0.0:${port}`],
    ["nothing", () => ""],
  ])("gets no answer: %s", async (_what, host) => {
    expect(statusOf(await health(`Host: ${host()}`))).toBe(403);
  });

  test.each(["localhost", "127.0.0.1", "[::1]", "LOCALHOST"])("our own name %s gets one", async (name) => {
    expect(statusOf(await health(`Host: ${name}:${port}`))).toBe(200);
  });

  test("a second Host does not get round the first", async () => {
    expect(statusOf(await health(`Host: localhost:${port}`, "Host: tunes.example"))).toBe(403);
  });

  test("nor does a whole address in the request line", async () => {
    const answer = await rawAnswer(
      port,
      requestOf(
        `GET http://tunes.example:${port}/health HTTP/1.1`,
        `Host: localhost:${port}`,
        "Connection: close",
      ),
    );
    expect(statusOf(answer)).toBe(403);
  });

  test("nor a request of the old kind without any host", async () => {
    expect(statusOf(await rawAnswer(port, requestOf("GET /health HTTP/1.0")))).toBe(403);
  });

  test("and is not told which resources there are", async () => {
    const answer = await rawAnswer(
      port,
      requestOf("GET /nothing HTTP/1.1", "Host: tunes.example", "Connection: close"),
    );
    expect(statusOf(answer)).toBe(403);
  });
});

describe("a page of somebody else in a browser", () => {
  test.each([
    "http://tunes.example",
    "https://localhost",
    "null",
    "http://localhost:1",
    "http://localhost.tunes.example",
  ])("cannot have a tune arranged from %s", async (origin) => {
    const answer = await request(app)
      .post("/arrangements")
      .set("Content-Type", MUSICXML)
      .set("Origin", origin)
      .send(SHORT_TUNE);
    expect(answer.status).toBe(403);
    expect(answer.body.findings).toMatchObject([{ rule: "origin-foreign" }]);
  });

  test.each(["cross-site", "same-site"])("cannot ask from a %s page without an Origin", async (site) => {
    await request(app).get("/health").set("Sec-Fetch-Site", site).expect(403);
  });

  test("is not told that it may ask", async () => {
    const answer = await request(app)
      .options("/arrangements")
      .set("Origin", "http://tunes.example")
      .set("Access-Control-Request-Method", "POST");
    expect(answer.status).toBe(403);
    expect(Object.keys(answer.headers).filter((name) => name.startsWith("access-control"))).toEqual([]);
  });

  test.each([
    "text/plain",
    "application/x-www-form-urlencoded",
    "multipart/form-data; boundary=x",
    "multipart/mixed",
    "application/json",
    "nonsense",
  ])("cannot send a tune as %s", async (type) => {
    const answer = await request(app).post("/arrangements").set("Content-Type", type).send(SHORT_TUNE);
    expect(answer.status).toBe(415);
  });

  test("cannot send a tune as nothing at all", async () => {
    const answer = await rawAnswer(
      port,
      requestOf(
        "POST /arrangements HTTP/1.1",
        `Host: localhost:${port}`,
        "Connection: close",
        "Content-Length: 0",
      ),
    );
    expect(statusOf(answer)).toBe(415);
  });

  test.each(["get", "put", "delete", "patch"] as const)(
    "finds nothing that %s would set off",
    async (method) => {
      const answer = await request(app)[method]("/arrangements");
      expect(answer.status).toBe(405);
      expect(answer.get("Allow")).toBe("POST");
    },
  );
});

describe("who is let in", () => {
  test("a program that says nothing of where it comes from", async () => {
    await request(app).post("/arrangements").set("Content-Type", MUSICXML).send(SHORT_TUNE).expect(200);
  });

  test.each(["localhost", "127.0.0.1", "[::1]"])("a page of the service itself at %s", async (name) => {
    const answer = await health(
      `Host: localhost:${port}`,
      `Origin: http://${name}:${port}`,
      "Sec-Fetch-Site: same-origin",
    );
    expect(statusOf(answer)).toBe(200);
  });

  test("a person who types the address", async () => {
    expect(statusOf(await health(`Host: localhost:${port}`, "Sec-Fetch-Site: none"))).toBe(200);
  });
});

test("no answer lets another page read it, or runs anything in a browser", async () => {
  for (const answer of [await request(app).get("/health"), await request(app).get("/nothing")]) {
    expect(answer.get("Access-Control-Allow-Origin")).toBeUndefined();
    expect(answer.get("X-Content-Type-Options")).toBe("nosniff");
    expect(answer.get("Cross-Origin-Resource-Policy")).toBe("same-origin");
    expect(answer.get("Content-Security-Policy")).toContain("default-src 'none'");
    expect(answer.get("Cache-Control")).toBe("no-store");
  }
});

import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { strToU8, zipSync } from "fflate";
import request from "supertest";
import { describe, expect, test } from "vitest";
import { FILE_LIMITS } from "../../src/xml/file-limits.js";
import { appInTest, SHORT_TUNE } from "./service-in-test.js";

const app = appInTest();

const arrange = (body: string | Uint8Array) =>
  request(app)
    .post("/arrangements")
    .set("Content-Type", "application/octet-stream")
    .send(typeof body === "string" ? body : Buffer.from(body));

const container = (path: string) =>
  strToU8(`<container><rootfiles><rootfile full-path="${path}"/></rootfiles></container>`);

describe("a zip", () => {
  test.each([
    "../../etc/passwd",
    "/etc/passwd",
    "C:\\\\tune.xml",
    "scores\\\\..\\\\tune.xml",
    "a/../../b.xml",
  ])("whose container leads to %s is refused", async (path) => {
    const zip = zipSync({
      "META-INF/container.xml": container(path),
      [path]: strToU8(SHORT_TUNE),
      "tune.xml": strToU8(SHORT_TUNE),
    });
    const answer = await arrange(zip).expect(422);
    expect(answer.body.findings).toMatchObject([{ rule: "container-path" }]);
  });

  test("that unpacks to more than the cap is given up when the cap is reached", async () => {
    const blanks = new Uint8Array(FILE_LIMITS.unzippedBytes + 1).fill(0x20);
    const zip = zipSync({ "META-INF/container.xml": container("tune.xml"), "tune.xml": blanks });
    expect(zip.length).toBeLessThan(100_000);
    const answer = await arrange(zip).expect(413);
    expect(answer.body.findings).toMatchObject([{ rule: "too-large" }]);
  });

  test("that says it unpacks to little is believed no more", async () => {
    const blanks = new Uint8Array(FILE_LIMITS.unzippedBytes + 1).fill(0x20);
    const zip = Buffer.from(zipSync({ "META-INF/container.xml": container("tune.xml"), "tune.xml": blanks }));
    const size = Buffer.alloc(4);
    size.writeUInt32LE(blanks.length);
    const small = Buffer.alloc(4);
    small.writeUInt32LE(1_000);
    for (let at = zip.indexOf(size); at >= 0; at = zip.indexOf(size)) small.copy(zip, at);
    const answer = await arrange(zip).expect(413);
    expect(answer.body.findings).toMatchObject([{ rule: "too-large" }]);
  });

  test("with thousands of files in it is not gone through", async () => {
    const many = Object.fromEntries(
      Array.from({ length: FILE_LIMITS.zipEntries + 1 }, (_, index) => [`${index}.txt`, new Uint8Array()]),
    );
    const answer = await arrange(zipSync(many)).expect(413);
    expect(answer.body.findings).toMatchObject([{ rule: "zip-entries" }]);
  });
});

describe("a text", () => {
  test("that declares entities is refused before one of them is used", async () => {
    const levels = Array.from(
      { length: 9 },
      (_, level) => `<!ENTITY e${level + 1} "${`&e${level};`.repeat(10)}">`,
    ).join("");
    const doctype = `<!DOCTYPE score-partwise [<!ENTITY e0 "la la la">${levels}]>`;
    const answer = await arrange(
      `${doctype}<score-partwise><movement-title>&e9;</movement-title></score-partwise>`,
    );
    expect(answer.status).toBe(422);
    expect(answer.body.findings).toMatchObject([{ rule: "doctype-entities" }]);
  });

  test("that names a file of this machine is not shown it", async () => {
    const here = fileURLToPath(import.meta.url);
    const answer = await arrange(
      `<!DOCTYPE score-partwise [<!ENTITY here SYSTEM "file://${here}">]><score-partwise>&here;</score-partwise>`,
    );
    expect(answer.status).toBe(422);
    expect(answer.body.findings).toMatchObject([{ rule: "doctype-entities" }]);
    expect(JSON.stringify(answer.body)).not.toContain("vitest");
  });

  test("that nests deeper than any score is refused", async () => {
    const depth = 10_000;
    const answer = await arrange("<a>".repeat(depth) + "</a>".repeat(depth)).expect(422);
    expect(answer.body.findings).toMatchObject([{ rule: "too-deep" }]);
  });

  test("with millions of elements is refused", async () => {
    const answer = await arrange(`<a>${"<b/>".repeat(FILE_LIMITS.elements)}</a>`).expect(413);
    expect(answer.body.findings).toMatchObject([{ rule: "too-many-elements" }]);
  });
});

describe("the disk", () => {
  const SERVER = fileURLToPath(new URL("../../server/", import.meta.url));

  test("no file of the service opens, makes or removes a file", () => {
    const sources = readdirSync(SERVER, { recursive: true, encoding: "utf8" }).filter((name) =>
      name.endsWith(".ts"),
    );
    expect(sources.length).toBeGreaterThan(20);
    const reachTheDisk = sources.filter((name) =>
      /["'](node:)?(fs|child_process)(\/promises)?["']|sendFile|express\.static|\.download\(/.test(
        readFileSync(join(SERVER, name), "utf8"),
      ),
    );
    expect(reachTheDisk).toEqual([]);
  });

  test.each([
    "/../../../etc/passwd",
    "/%2e%2e/%2e%2e/etc/passwd",
    "/..%5c..%5cpackage.json",
    "/package.json",
  ])("the path %s leads to no file", async (path) => {
    await request(app).get(path).expect(404);
  });
});

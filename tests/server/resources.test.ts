import request, { type Response, type Test } from "supertest";
import { describe, expect, test } from "vitest";
import { SERVICE_LIMITS } from "../../server/limits.js";
import { arrangeBytes } from "../../src/arrange-bytes.js";
import { checkScore } from "../../src/checking/check-score.js";
import { Findings } from "../../src/diagnostics.js";
import { surveyKeys } from "../../src/keys/survey-keys.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { OPTIONS_SCHEMA } from "../../src/options/options-schema.js";
import { checkReport } from "../../src/reporting/check-report.js";
import { readScoreText } from "../../src/xml/container.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { appInTest, SHORT_TUNE } from "./service-in-test.js";

const app = appInTest();

const MUSICXML = "application/vnd.recordare.musicxml+xml";
const MXL = "application/vnd.recordare.musicxml";

const arrange = (query = ""): Test =>
  request(app).post(`/arrangements${query}`).set("Content-Type", MUSICXML).buffer(true).parse(bytesOf);

/** The answer's body as it came. */
function bytesOf(answer: Response, done: (error: Error | null, body: Buffer) => void): void {
  const chunks: Buffer[] = [];
  // While its body is read, an answer is a stream, which its type does not say.
  const stream = answer as unknown as NodeJS.ReadableStream;
  stream.on("data", (chunk: Buffer) => chunks.push(chunk));
  stream.on("end", () => done(null, Buffer.concat(chunks)));
}

const arranged = (given: object) =>
  arrangeBytes(new TextEncoder().encode(SHORT_TUNE), completeOptions(given), new Findings(), {
    isCompressed: false,
  });

const scoreIn = (body: unknown): string => readScoreText(body as Uint8Array).text;
const plainScore = (given: object): string => new TextDecoder().decode(arranged(given).bytes);

/** A body of several parts, as a program would write it. */
const BOUNDARY = "between-two-parts";
const parts = (...all: readonly { readonly head: string; readonly body: string }[]): string =>
  `${all.map(({ head, body }) => `--${BOUNDARY}\r\n${head}\r\n\r\n${body}\r\n`).join("")}--${BOUNDARY}--\r\n`;
const scorePart = { head: `Content-Type: ${MUSICXML}`, body: SHORT_TUNE };
const optionsPart = (body: string) => ({ head: "Content-Type: application/json", body });

describe("an arrangement", () => {
  test("is the score that the library makes of the same tune", async () => {
    const answer = await arrange().send(SHORT_TUNE).expect(200);
    expect(answer.type).toBe(MUSICXML);
    expect(scoreIn(answer.body)).toBe(plainScore({}));
  });

  test("is asked for by the options in the query", async () => {
    const query = "?texture=full&tempo=44&diagrams=true&key=Eb";
    const answer = await arrange(query).send(SHORT_TUNE).expect(200);
    const wanted = plainScore({ texture: "full", tempo: 44, diagrams: true, key: "Eb" });
    expect(scoreIn(answer.body)).toBe(wanted);
    expect(wanted).not.toBe(plainScore({}));
  });

  test.each(["multipart/mixed", "multipart/related"])("is asked for by a JSON part in %s", async (type) => {
    const answer = await arrange("?texture=full")
      .set("Content-Type", `${type}; boundary=${BOUNDARY}`)
      .send(parts(optionsPart('{"key":"Eb","frets":12}'), scorePart))
      .expect(200);
    expect(scoreIn(answer.body)).toBe(plainScore({ texture: "full", key: "Eb", frets: 12 }));
  });

  test("is arranged around the wishes that stand in the JSON part", async () => {
    const wishes = [{ measure: 1, beat: 1, play: "single" as const }];
    const answer = await arrange("?texture=full")
      .set("Content-Type", `multipart/mixed; boundary=${BOUNDARY}`)
      .send(parts(optionsPart(JSON.stringify({ frets: 12, wishes })), scorePart))
      .expect(200);
    const { bytes } = arrangeBytes(
      new TextEncoder().encode(SHORT_TUNE),
      completeOptions({ texture: "full", frets: 12 }),
      new Findings(),
      { isCompressed: false },
      { wishes },
    );
    expect(scoreIn(answer.body)).toBe(new TextDecoder().decode(bytes));
    expect(scoreIn(answer.body)).not.toBe(plainScore({ texture: "full", frets: 12 }));
  });

  test("comes compressed where that is what the client accepts", async () => {
    const answer = await arrange().set("Accept", MXL).send(SHORT_TUNE).expect(200);
    expect(answer.type).toBe(MXL);
    expect(readScoreText(answer.body).isCompressed).toBe(true);
    expect(scoreIn(answer.body)).toBe(plainScore({}));
  });

  test("comes with its report where JSON is what the client accepts", async () => {
    const answer = await arrange().set("Accept", "application/json").send(SHORT_TUNE).expect(200);
    const { score, report } = JSON.parse(String(answer.body));
    expect(score).toBe(plainScore({}));
    expect(report).toEqual(JSON.parse(JSON.stringify(arranged({}).report)));
  });

  test("is made of a compressed score whatever its content type says", async () => {
    const { bytes } = arrangeBytes(
      new TextEncoder().encode(SHORT_TUNE),
      completeOptions({}),
      new Findings(),
      {
        isCompressed: true,
      },
    );
    const answer = await arrange().send(Buffer.from(bytes)).expect(200);
    expect(scoreIn(answer.body)).toContain("<sign>TAB</sign>");
  });

  test("tells how many warnings there are, and which in the report", async () => {
    const odd = SHORT_TUNE.replace(/<kind[^>]*>dominant<\/kind>/, "<kind>min7</kind>");
    expect(odd).not.toBe(SHORT_TUNE);
    const answer = await arrange().set("Accept", "application/json").send(odd).expect(200);
    const { findings } = JSON.parse(String(answer.body)).report;
    const warnings = findings.filter(({ severity }: { severity: string }) => severity === "warning");
    expect(warnings).toMatchObject([{ rule: "chord-kind-unlisted", place: { measure: 2, beat: 1 } }]);
    expect(answer.get("Undervoice-Warnings")).toBe("1");
  });
});

describe("a survey of the keys", () => {
  test("says of a lead sheet what the library says of it", async () => {
    const answer = await request(app)
      .post("/key-surveys?texture=full")
      .set("Content-Type", MUSICXML)
      .send(SHORT_TUNE)
      .expect(200);
    const wanted = surveyKeys(parseXml(SHORT_TUNE), completeOptions({ texture: "full" }), new Findings());
    expect(answer.body).toEqual(JSON.parse(JSON.stringify(wanted)));
    expect(answer.body.keys).toHaveLength(12);
  });

  test("has no use for one key", async () => {
    const answer = await request(app)
      .post("/key-surveys?key=G")
      .set("Content-Type", MUSICXML)
      .send(SHORT_TUNE)
      .expect(400);
    expect(answer.body.findings).toMatchObject([{ rule: "option-unused", found: "key" }]);
  });
});

describe("a check", () => {
  const check = (query = ""): Test =>
    request(app).post(`/checks${query}`).set("Content-Type", "application/octet-stream");

  test("says of a guitar score what the library says of it", async () => {
    const score = plainScore({ texture: "full" });
    const answer = await check("?frets=5").send(score).expect(200);
    const wanted = checkReport(checkScore(parseXml(score), completeOptions({ frets: 5 })));
    expect(answer.body).toEqual(JSON.parse(JSON.stringify(wanted)));
  });

  test("of a score that no hand can play is an answer, not a refusal", async () => {
    const [fret] = /<fret>\d+<\/fret>/.exec(plainScore({})) ?? [""];
    const answer = await check().send(plainScore({}).replace(fret, "<fret>23</fret>")).expect(200);
    expect(answer.body.summary.errors).toBeGreaterThan(0);
    expect(answer.body.findings).toContainEqual(expect.objectContaining({ rule: "fret-pitch-mismatch" }));
  });

  test("has no use for an option that only an arrangement goes by", async () => {
    const answer = await check("?texture=full").send(plainScore({})).expect(400);
    expect(answer.body.findings).toMatchObject([{ rule: "option-unused", found: "texture" }]);
  });
});

describe("what is refused says why", () => {
  const findingsOf = (answer: { readonly body: unknown }) => JSON.parse(String(answer.body)).findings;

  test("a score that breaks off: where it does", async () => {
    const answer = await arrange().send(SHORT_TUNE.slice(0, 600)).expect(422);
    expect(answer.type).toBe("application/problem+json");
    expect(findingsOf(answer)).toMatchObject([
      { rule: "not-well-formed", place: { line: expect.any(Number) } },
    ]);
  });

  test("a score without chord symbols: that there are none", async () => {
    const bare = SHORT_TUNE.replace(/<harmony[\s\S]*?<\/harmony>/g, "");
    const answer = await arrange().send(bare).expect(422);
    expect(findingsOf(answer).at(-1)).toMatchObject({ rule: "no-chord-symbols", severity: "error" });
  });

  test("options: every one by its name", async () => {
    const answer = await arrange("?texture=thick&colour=red").send(SHORT_TUNE).expect(400);
    expect(findingsOf(answer).map(({ message }: { message: string }) => message)).toEqual([
      expect.stringContaining('"colour"'),
      expect.stringContaining("texture"),
    ]);
  });

  test.each([
    ["?frets=many", "frets"],
    ["?frets=", "frets"],
    ["?diagrams=perhaps", "diagrams"],
    ["?texture=full&texture=fluent", "texture"],
    ["?frets=20&capo=9", "capo"],
    ["?__proto__=full", "__proto__"],
  ])("the query %s", async (query, name) => {
    const answer = await arrange(query).send(SHORT_TUNE).expect(400);
    expect(findingsOf(answer)[0].message).toContain(name);
  });

  test.each([
    [
      "an option in the query and in the JSON part",
      [optionsPart('{"texture":"full"}'), scorePart],
      "option-twice",
    ],
    ["two scores", [scorePart, scorePart], "parts-unreadable"],
    ["no score", [optionsPart("{}")], "parts-unreadable"],
    ["options that are a list", [optionsPart("[1]"), scorePart], "parts-unreadable"],
    ["options that are no JSON", [optionsPart("{texture"), scorePart], "parts-unreadable"],
    [
      "options without end",
      [optionsPart(`{"texture":"${"a".repeat(SERVICE_LIMITS.optionsBytes)}"}`), scorePart],
      "parts-unreadable",
    ],
  ])("%s in a body of parts", async (_what, all, rule) => {
    const answer = await arrange("?texture=full")
      .set("Content-Type", `multipart/mixed; boundary=${BOUNDARY}`)
      .send(parts(...all))
      .expect(400);
    expect(findingsOf(answer)).toMatchObject([{ rule }]);
  });

  test.each([
    ["that are no list", 400, '{"wishes":"a chord, please"}', "wish-unreadable"],
    ["of no kind there is", 400, '{"wishes":[{"measure":1,"beat":1,"play":"loudly"}]}', "wish-unreadable"],
    ["for a measure there is not", 422, '{"wishes":[{"measure":99,"beat":1,"play":"single"}]}', undefined],
  ])("wishes %s", async (_what, status, json, rule) => {
    const answer = await arrange()
      .set("Content-Type", `multipart/mixed; boundary=${BOUNDARY}`)
      .send(parts(optionsPart(json), scorePart))
      .expect(status);
    expect(findingsOf(answer)).toMatchObject([rule === undefined ? { severity: "error" } : { rule }]);
  });

  test.each(["/key-surveys", "/checks"])("wishes at %s, which has no use for them", async (path) => {
    const answer = await request(app)
      .post(path)
      .set("Content-Type", `multipart/mixed; boundary=${BOUNDARY}`)
      .send(parts(optionsPart('{"wishes":[]}'), scorePart))
      .expect(400);
    expect(answer.body.findings).toMatchObject([{ rule: "option-unused", found: "wishes" }]);
  });

  test("a body of parts that breaks off", async () => {
    const answer = await arrange()
      .set("Content-Type", `multipart/mixed; boundary=${BOUNDARY}`)
      .send(parts(scorePart).slice(0, -30))
      .expect(400);
    expect(findingsOf(answer)).toMatchObject([{ rule: "parts-unreadable" }]);
  });

  test("an answer that only a picture would do for", async () => {
    const answer = await arrange().set("Accept", "image/png").send(SHORT_TUNE).expect(406);
    expect(findingsOf(answer)).toMatchObject([{ rule: "answer-type", found: "image/png" }]);
  });

  test("a body that is coded besides", async () => {
    const answer = await arrange().set("Content-Encoding", "gzip").send(SHORT_TUNE).expect(415);
    expect(findingsOf(answer)).toMatchObject([{ rule: "content-coding" }]);
  });
});

describe("around the arrangements", () => {
  test("the options are described by the schema the command line is made from", async () => {
    const answer = await request(app).get("/options").expect(200);
    expect(answer.body).toEqual(JSON.parse(JSON.stringify(OPTIONS_SCHEMA)));
  });

  test("health says that nothing is to be done", async () => {
    const answer = await request(app).get("/health").expect(200);
    expect(answer.body).toEqual({ status: "ok", version: "1.2.3", working: 0, waiting: 0 });
  });

  test("every resource that is listed is there, and takes the method it is listed with", async () => {
    const { body } = await request(app).get("/").expect(200);
    expect(body.resources.length).toBeGreaterThan(4);
    for (const { method, path } of body.resources) {
      const answer = await request(app)[method === "GET" ? "get" : "post"](path);
      // A POST without a content type is refused by the resource itself.
      expect(answer.status, path).toBe(method === "GET" ? 200 : 415);
    }
  });

  test.each(["/nothing", "/health/", "/HEALTH", "/arrangements/1"])(
    "there is nothing at %s",
    async (path) => {
      const answer = await request(app).get(path).expect(404);
      expect(answer.type).toBe("application/problem+json");
      expect(answer.body.findings).toMatchObject([{ rule: "resource-unknown", found: path }]);
    },
  );
});

describe("a token", () => {
  const guarded = appInTest({ token: "three-blind-mice" });

  test("opens the service to those who know it", async () => {
    const answer = await request(guarded).get("/options").set("Authorization", "Bearer three-blind-mice");
    expect(answer.status).toBe(200);
  });

  test.each([
    undefined,
    "Bearer three-blind-rats",
    "Bearer",
    "Basic three-blind-mice",
    "Bearer three-blind-mice2",
  ])("%s opens nothing", async (authorization) => {
    const asked = request(guarded).post("/arrangements").set("Content-Type", MUSICXML);
    const answer = await (authorization === undefined
      ? asked
      : asked.set("Authorization", authorization)
    ).send(SHORT_TUNE);
    expect(answer.status).toBe(401);
    expect(answer.get("WWW-Authenticate")).toMatch(/^Bearer/);
  });

  test("is not needed to ask whether the service runs", async () => {
    await request(guarded).get("/health").expect(200);
  });
});

import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createContext, Script } from "node:vm";
import { parse } from "acorn";
import { expect, test } from "vitest";

const CLIENT = fileURLToPath(
  new URL("../../plugin-adapters/script-client/undervoice-client.js", import.meta.url),
);
const source = readFileSync(CLIENT, "utf8");

interface Trip {
  readonly isArranged: boolean;
  readonly note: string;
}

type Done = (error?: unknown, value?: unknown) => void;

/** A notation program whose every function goes well; a test replaces what is to go otherwise. */
const host = () => ({
  imported: [] as string[],
  asked: [] as Readonly<Record<string, unknown>>[],
  exportScore: (done: Done): void => done(undefined, "<score/>"),
  importScore(score: string, done: Done): void {
    this.imported.push(score);
    done();
  },
  request(request: Readonly<Record<string, unknown>>, done: Done): void {
    this.asked.push(request);
    done(undefined, { status: 200, body: JSON.stringify({ score: "<guitar/>", report: { findings: [] } }) });
  },
});

/** Runs the client in an engine with nothing in it but the language; every answer it gives is listed. */
function trips(given: object, wishes: object = {}): readonly Trip[] {
  const engine = createContext(Object.create(null));
  new Script(source).runInContext(engine);
  const all: Trip[] = [];
  engine.undervoiceRoundTrip(given, wishes, (trip: Trip) => all.push({ ...trip }));
  return all;
}

test("the client is a plain script of the language as it was in 2015", () => {
  expect(() => parse(source, { ecmaVersion: 2015, sourceType: "script" })).not.toThrow();
  expect(() => parse(`${source}; a ?? b`, { ecmaVersion: 2015, sourceType: "script" })).toThrow();
});

test("it leaves one name behind in the engine, and uses none that the language does not have", () => {
  const engine = createContext(Object.create(null));
  new Script(`"use strict";${source}`).runInContext(engine);
  expect(Object.keys(engine)).toEqual(["undervoiceRoundTrip"]);
});

test("it asks the service once, with the options in the address and the token beside it", () => {
  const program = host();
  const wishes = {
    service: "http://127.0.0.1:9999/",
    token: "mice",
    options: { tuning: "D2 A2 D3 G3 B3 E4", key: "F#m", diagrams: true },
  };
  expect(trips(program, wishes)).toEqual([{ isArranged: true, note: "" }]);
  expect(program.imported).toEqual(["<guitar/>"]);
  expect(program.asked).toEqual([
    {
      method: "POST",
      url: "http://127.0.0.1:9999/arrangements?tuning=D2%20A2%20D3%20G3%20B3%20E4&key=F%23m&diagrams=true",
      headers: {
        "Content-Type": "application/octet-stream",
        Accept: "application/json",
        Authorization: "Bearer mice",
      },
      body: "<score/>",
    },
  ]);
});

test("warnings about the arrangement come back as lines with their places", () => {
  const finding = { severity: "warning", place: { measure: 3, beat: 2 }, message: "A guess.", hint: "Look." };
  const request = (_request: unknown, done: Done) =>
    done(undefined, {
      status: 200,
      body: JSON.stringify({ score: "<g/>", report: { findings: [finding] } }),
    });
  expect(trips({ ...host(), request })).toEqual([
    { isArranged: true, note: "measure 3, beat 2: warning: A guess. Look." },
  ]);
});

const answering = (status: number, body: string) => ({
  request: (_request: unknown, done: Done) => done(undefined, { status, body }),
});

test.each([
  ["the export fails", { exportScore: (done: Done) => done("no score is open") }, "no score is open"],
  [
    "the export throws",
    {
      exportScore: () => {
        throw new Error("the pen broke");
      },
    },
    "the pen broke",
  ],
  ["the export is empty", { exportScore: (done: Done) => done(undefined, "") }, "it is empty"],
  [
    "nobody answers",
    { request: (_request: unknown, done: Done) => done(new Error("refused")) },
    'Is "undervoice serve" running?',
  ],
  [
    "the request throws",
    {
      request: () => {
        throw "no network here";
      },
    },
    "no network here",
  ],
  ["the answer is nothing", { request: (_request: unknown, done: Done) => done() }, "does not answer"],
  [
    "the score is refused",
    answering(
      422,
      JSON.stringify({ findings: [{ severity: "error", place: { measure: 7 }, message: "No tune." }] }),
    ),
    "measure 7: error: No tune.",
  ],
  ["the refusal is unreadable", answering(500, "<html>"), "500"],
  ["the answer is cut off", answering(200, '{"score": "<guit'), "cut off"],
  ["the answer has no score in it", answering(200, "{}"), "cut off"],
  ["the answer is null", answering(200, "null"), "cut off"],
])("where %s, nothing is imported and one note says so", (_what, part, why) => {
  const program = { ...host(), ...part };
  const all = trips(program);
  expect(all).toHaveLength(1);
  expect(all[0]?.isArranged).toBe(false);
  expect(all[0]?.note).toContain(why);
  expect(program.imported).toEqual([]);
});

test("where the import fails, the note says so", () => {
  const importScore = (_score: string, done: Done) => done(new Error("version too new"));
  expect(trips({ ...host(), importScore })).toEqual([
    { isArranged: false, note: "The guitar score could not be imported: version too new" },
  ]);
});

test("a program that answers twice is heard once", () => {
  const program = host();
  const request = (_request: unknown, done: Done) => {
    done(undefined, { status: 200, body: JSON.stringify({ score: "<guitar/>" }) });
    done(undefined, { status: 200, body: JSON.stringify({ score: "<second/>" }) });
  };
  expect(trips(Object.assign(program, { request }))).toHaveLength(1);
  expect(program.imported).toEqual(["<guitar/>"]);
});

test("an error of the one who asked is not taken for the program's", () => {
  const engine = createContext(Object.create(null));
  new Script(source).runInContext(engine);
  let calls = 0;
  const ask = () =>
    engine.undervoiceRoundTrip(host(), {}, () => {
      calls++;
      throw new Error("mine");
    });
  expect(ask).toThrow("mine");
  expect(calls).toBe(1);
});

import { execFileSync, spawn, spawnSync } from "node:child_process";
import {
  closeSync,
  existsSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";

/** The program as it is installed; `npm test` builds it first. */
const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));

const elsewhere = mkdtempSync(join(tmpdir(), "undervoice-"));
const SAMPLE = join(elsewhere, "short-bell.musicxml");
writeFileSync(SAMPLE, leadSheetFromText("title: Short Bell\n\n[C] G4/2 E4/2 | [G] D4/1 | [C] C4/1 ||\n"));
afterAll(() => rmSync(elsewhere, { recursive: true, force: true }));

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "undervoice-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const undervoice = (words: readonly string[], input?: string | Buffer) =>
  spawnSync(process.execPath, [MAIN, ...words], { cwd: folder, input, encoding: "utf8", maxBuffer: 1 << 26 });

test("a score goes in by standard input and comes out by standard output", () => {
  const { status, stdout, stderr } = undervoice(["arrange", "-"], readFileSync(SAMPLE));
  expect(status, stderr).toBe(0);
  expect(stdout).toMatch(/^<\?xml[\s\S]*<\/score-partwise>\s*$/);
  expect(stderr).toContain("Short Bell");
});

test("only the score is left in the folder it is written to", () => {
  const { status, stderr } = undervoice(["arrange", SAMPLE, "-o", "bell.mxl", "--report", "bell.json"]);
  expect(status, stderr).toBe(0);
  expect(readdirSync(folder).toSorted()).toEqual(["bell.json", "bell.mxl"]);
  expect(readFileSync(join(folder, "bell.mxl")).subarray(0, 2).toString()).toBe("PK");
});

test("where one of two files cannot be written, neither is, and what was there stays", () => {
  writeFileSync(join(folder, "bell.musicxml"), "the old score");
  const { status, stderr } = undervoice([
    "arrange",
    SAMPLE,
    "-o",
    "bell.musicxml",
    "--report",
    "nowhere/bell.json",
  ]);
  expect(status).toBe(3);
  expect(stderr).toContain("nowhere/bell.json: cannot be written");
  expect(readdirSync(folder)).toEqual(["bell.musicxml"]);
  expect(readFileSync(join(folder, "bell.musicxml"), "utf8")).toBe("the old score");
});

test("a folder in the place of the output is left alone", () => {
  const { status, stderr } = undervoice(["arrange", SAMPLE, "-o", "."]);
  expect(status).toBe(3);
  expect(stderr).toContain("it is a folder");
});

test("a folder in the place of the score is told from one, with the command that takes folders", () => {
  const { status, stderr } = undervoice(["arrange", "."]);
  expect(status).toBe(3);
  expect(stderr).toBe(
    "undervoice: error: .: cannot be read: it is a folder; the command batch arranges a folder of lead sheets\n",
  );
});

test("an output in a folder that is not there says so", () => {
  const { status, stderr } = undervoice(["arrange", SAMPLE, "-o", "nowhere/bell.musicxml"]);
  expect(status).toBe(3);
  expect(stderr).toBe(
    "undervoice: error: nowhere/bell.musicxml: cannot be written: the folder that it is to be in is not there\n",
  );
});

test("a link is followed, and goes on pointing to the score", () => {
  writeFileSync(join(folder, "real.musicxml"), "the old score");
  symlinkSync("real.musicxml", join(folder, "link.musicxml"));
  expect(undervoice(["arrange", SAMPLE, "-o", "link.musicxml"]).status).toBe(0);
  expect(readFileSync(join(folder, "real.musicxml"), "utf8")).toContain("<score-partwise");
});

test("a device is written to and stays a device", () => {
  expect(undervoice(["arrange", SAMPLE, "-o", "/dev/null"]).status).toBe(0);
  expect(statSync("/dev/null").isCharacterDevice()).toBe(true);
});

describe.skipIf(!existsSync("/dev/full"))("where there is no room left", () => {
  const intoFull = (...words: string[]) => {
    const full = openSync("/dev/full", "w");
    const { status, stderr } = spawnSync(process.execPath, [MAIN, ...words], {
      cwd: folder,
      encoding: "utf8",
      stdio: ["ignore", full, "pipe"],
      timeout: 30_000,
    });
    closeSync(full);
    return { status, stderr };
  };

  test.each([
    ["a score", ["arrange", SAMPLE, "-o", "-", "-q"]],
    ["a report", ["arrange", SAMPLE, "-o", "bell.musicxml", "--json", "-q"]],
    ["a page of help", ["help", "batch"]],
  ])("for %s on standard output, that is one clear error", (_what, words) => {
    expect(intoFull(...words)).toEqual({
      status: 3,
      stderr: "undervoice: error: standard output: cannot be written: there is no room left\n",
    });
  });

  test("a device that can be read without end is no score that stood there before", () => {
    const { status, stderr } = undervoice(["arrange", SAMPLE, "-o", "/dev/full", "-q"]);
    expect(status).toBe(3);
    expect(stderr).toBe("undervoice: error: /dev/full: cannot be written: there is no room left\n");
  });
});

test("a reader that closes early is no trouble", async () => {
  const child = spawn(process.execPath, [MAIN, "arrange", SAMPLE, "-o", "-"], {
    stdio: ["ignore", "pipe", "pipe"],
  });
  child.stdout.once("data", () => child.stdout.destroy());
  let errors = "";
  child.stderr.on("data", (text) => {
    errors += text;
  });
  await new Promise((done) => child.on("close", done));
  expect(errors).not.toContain("EPIPE");
  expect(errors).not.toContain("mistake in the program");
});

test("the program can be run by its own name", () => {
  expect(execFileSync(MAIN, ["--version"], { encoding: "utf8" })).toMatch(/^\d+\.\d+\.\d+\n$/);
});

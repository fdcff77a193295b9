import { type ChildProcess, execFileSync, spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { afterAll, beforeEach, expect, test } from "vitest";
import type { BatchSummary } from "../../src/batch/batch-summary.js";
import { harmony, leadSheet, note } from "../support/score-text.js";

/** The program as it is installed; `npm test` builds it first. */
const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));

let folder = "";
const made: string[] = [];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "undervoice-batch-"));
  made.push(folder);
});
afterAll(() => {
  for (const one of made) rmSync(one, { recursive: true, force: true });
});

const PITCHES = ["C5", "D5", "E5", "G5"];
const tune = (seed: number): string =>
  leadSheet(harmony("C") + note(PITCHES[seed % 4] ?? "C5", 8) + note(PITCHES[(seed + 1) % 4] ?? "C5", 8));

function put(path: string, text: string): void {
  mkdirSync(dirname(join(folder, path)), { recursive: true });
  writeFileSync(join(folder, path), text);
}

function shelf(count: number): readonly string[] {
  const names = Array.from({ length: count }, (_, at) => `in/${at % 3}/tune-${at}.musicxml`);
  for (const [at, name] of names.entries()) put(name, tune(at));
  return names;
}

const batch = (...words: string[]) =>
  spawnSync(process.execPath, [MAIN, "batch", ...words], { cwd: folder, encoding: "utf8" });

const started = (...words: string[]): ChildProcess =>
  spawn(process.execPath, [MAIN, "batch", ...words], { cwd: folder, stdio: ["ignore", "pipe", "pipe"] });

const summaryAt = (path: string) => JSON.parse(readFileSync(join(folder, path), "utf8")) as BatchSummary;

/** Every file below a folder with its content, but for records and summaries. */
function scoresIn(path: string): Readonly<Record<string, string>> {
  const all = readdirSync(join(folder, path), { recursive: true, encoding: "utf8" });
  return Object.fromEntries(
    all
      .filter((name) => name.endsWith(".musicxml"))
      .toSorted()
      .map((name) => [name, readFileSync(join(folder, path, name), "utf8")]),
  );
}

const leftovers = (path: string) =>
  readdirSync(join(folder, path), { recursive: true, encoding: "utf8" }).filter((name) =>
    name.endsWith(".part"),
  );

test("a shelf keeps its folders, one bad score stops no other, and the summary says which", () => {
  const names = shelf(5);
  put("in/bad.xml", "no score");
  put("in/notes.txt", "not one either");
  const { status, stdout, stderr } = batch("in", "-o", "out", "--jobs", "2");
  expect(status, stderr).toBe(5);
  expect(Object.keys(scoresIn("out"))).toHaveLength(names.length);
  expect(existsSync(join(folder, "out/0/tune-0-guitar.musicxml"))).toBe(true);
  expect(stdout).toContain("Scores: 6: 5 arranged, 1 refused");
  expect(stderr).toMatch(/^in\/bad\.xml: .*error/m);
  const summary = summaryAt("out/batch-summary.json");
  expect(summary.needAnEye[0]?.input).toBe("in/bad.xml");
  expect(readFileSync(join(folder, "out/batch-summary.html"), "utf8")).toContain(
    "5 of 6 lead sheets are arranged",
  );
});

test.each([
  ["it writes to", false],
  ["it has nothing left to do in", true],
])("what a killed batch left half-written is swept from every folder %s", (_, isDone) => {
  shelf(3);
  if (isDone) expect(batch("in", "-o", "out").status).toBe(0);
  const left = "out/1/.undervoice-0f0e0d0c-0b0a-4908-8706-050403020100.part";
  put(left, "<score-partw");
  utimesSync(join(folder, left), 1_000_000, 1_000_000);
  expect(batch("in", "-o", "out", "--resume").status).toBe(0);
  expect(leftovers("out")).toEqual([]);
});

test("what arrange makes of a score, batch makes of it byte for byte", () => {
  put("one.musicxml", tune(1));
  batch("one.musicxml", "-o", "out");
  execFileSync(process.execPath, [MAIN, "arrange", "one.musicxml", "-o", "alone.musicxml"], { cwd: folder });
  expect(scoresIn("out")["one-guitar.musicxml"]).toBe(readFileSync(join(folder, "alone.musicxml"), "utf8"));
});

test("the shares of several machines together are what one machine makes, their summaries one summary", () => {
  const names = shelf(7);
  const list = names.join("\n");
  const fromList = (...words: string[]) =>
    spawnSync(process.execPath, [MAIN, "batch", "-", ...words], {
      cwd: folder,
      encoding: "utf8",
      input: list,
    });
  expect(fromList("-o", "whole").status).toBe(0);
  for (const index of [1, 2, 3]) expect(fromList("-o", "shared", "--shard", `${index}/3`).status).toBe(0);
  expect(scoresIn("shared")).toEqual(scoresIn("whole"));
  const summaries = [1, 2, 3].map((index) => `shared/batch-summary-${index}-of-3.json`);
  const merged = batch("--merge-summaries", ...summaries, "-o", "shared");
  expect(merged.status, merged.stderr).toBe(0);
  expect(summaryAt("shared/batch-summary.json").rows).toEqual(summaryAt("whole/batch-summary.json").rows);
});

test("what contradicts is refused before anything is written", () => {
  shelf(1);
  put("in/0/tune-0.xml", tune(1));
  expect(batch("in", "-o", "out").stderr).toContain("would become one guitar score");
  expect(batch("in").stderr).toContain("--output");
  expect(batch("gone", "-o", "out").status).toBe(3);
  expect(batch("in", "-o", "out", "--shard", "9/8").status).toBe(2);
  expect(batch("in", "-o", "out", "--jobs", "none").status).toBe(2);
  expect(existsSync(join(folder, "out"))).toBe(false);
});

test("interrupted, it finishes what was begun and says how much is left; resumed, it does the rest", async () => {
  const names = shelf(40);
  const child = started("in", "-o", "out", "--jobs", "1");
  while (!existsSync(join(folder, "out/0")) && child.exitCode === null) await pause(10);
  child.kill("SIGINT");
  const [status] = await once(child, "exit");
  expect(status).toBe(130);
  const first = summaryAt("out/batch-summary.json");
  expect(first.notBegun).toBeGreaterThan(0);
  expect(Object.keys(scoresIn("out"))).toHaveLength(first.counts.arranged);
  expect(batch("in", "-o", "out", "--resume").status).toBe(0);
  expect(summaryAt("out/batch-summary.json").counts).toMatchObject({
    scores: names.length,
    arranged: names.length,
  });
}, 120_000);

test("killed at any moment, it leaves nothing half-written, and --resume completes", async () => {
  const names = shelf(24);
  expect(batch("in", "-o", "whole").status).toBe(0);
  const whole = scoresIn("whole");
  for (let wait = 100; wait < 900; wait += 80) {
    const child = started("in", "-o", "out", "--resume", "--jobs", "2");
    const ended = once(child, "exit");
    await pause(wait);
    child.kill("SIGKILL");
    await ended;
    if (!existsSync(join(folder, "out"))) continue;
    for (const [name, text] of Object.entries(scoresIn("out"))) expect(text).toBe(whole[name]);
  }
  expect(batch("in", "-o", "out", "--resume").status).toBe(0);
  expect(scoresIn("out")).toEqual(whole);
  expect(Object.keys(whole)).toHaveLength(names.length);
  expect(leftovers("whole")).toEqual([]);
}, 180_000);

test("an output folder that may not be written is one clear error", () => {
  shelf(1);
  mkdirSync(join(folder, "barred"));
  writeFileSync(join(folder, "file"), "");
  const { status, stderr } = batch("in", "-o", "file/out");
  expect(status).toBe(3);
  expect(stderr).toMatch(/cannot be written/);
  if (process.getuid?.() === 0) return;
  chmodSync(join(folder, "barred"), 0o500);
  expect(batch("in", "-o", "barred").status).toBe(3);
});

/** A file system of so many bytes; false where this process may not make one. */
function smallDisk(path: string, size: string): boolean {
  mkdirSync(path);
  return spawnSync("mount", ["-t", "tmpfs", "-o", `size=${size}`, "tmpfs", path]).status === 0;
}

test("on a full disk it ends with what is wrong and nothing half-written, and goes on once there is room", ({
  skip,
}) => {
  shelf(40);
  const disk = join(folder, "disk");
  if (!smallDisk(disk, "200k")) return skip("no file system can be mounted here");
  try {
    const full = batch("in", "-o", "disk/out");
    expect(full.status).toBe(3);
    expect(full.stderr).toContain("there is no room left");
    expect(leftovers("disk/out")).toEqual([]);
    for (const text of Object.values(scoresIn("disk/out"))) expect(text).toMatch(/<\/score-partwise>\s*$/);
    spawnSync("mount", ["-o", "remount,size=20m", disk]);
    expect(batch("in", "-o", "disk/out", "--resume").status).toBe(0);
    spawnSync("mount", ["-o", "remount,ro", disk]);
    const barred = batch("in", "-o", "disk/other");
    expect(barred.status).toBe(3);
    expect(barred.stderr).toContain("nothing may be written");
  } finally {
    spawnSync("umount", [disk]);
  }
}, 120_000);

test("a score that takes longer than it may is given up, and the others are not", () => {
  shelf(2);
  const long = Array.from({ length: 2000 }, (_, at) => note(PITCHES[(at * 7) % 4] ?? "C5", 4).repeat(4));
  put("in/long.musicxml", leadSheet(harmony("C") + long[0], ...long.slice(1)));
  const { status, stdout } = batch("in", "-o", "out", "--time-limit", "1", "--jobs", "1");
  expect(stdout).toContain("2 arranged, 1 given up");
  expect(status).toBe(5);
}, 120_000);

const hasParallel = spawnSync("parallel", ["--version"]).status === 0;
test.skipIf(!hasParallel)("GNU parallel does a shelf with arrange alone, and goes on where it was", () => {
  const names = shelf(4);
  mkdirSync(join(folder, "out"));
  const run = () =>
    spawnSync(
      "parallel",
      [
        "--will-cite",
        "--joblog",
        "jobs.log",
        "--resume",
        `${process.execPath} ${MAIN} arrange {} -o out/{/.}-guitar.musicxml --quiet`,
      ],
      { cwd: folder, encoding: "utf8", input: names.join("\n") },
    );
  const first = run();
  expect(first.status, first.stderr).toBe(0);
  expect(Object.keys(scoresIn("out"))).toHaveLength(4);
  rmSync(join(folder, "out/tune-0-guitar.musicxml"));
  expect(run().status).toBe(0);
  // Done once by its log, and so not again.
  expect(Object.keys(scoresIn("out"))).toHaveLength(3);
});

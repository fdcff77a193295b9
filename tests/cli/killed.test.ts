import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import {
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
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";

/** The program as it is installed; `npm test` builds it first. */
const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
/** How often the program is killed; UNDERVOICE_KILLS asks for more of it. */
const KILLS = Number(process.env.UNDERVOICE_KILLS ?? 5);
const LAST_MS = 1_000;
const tune = (title: string) =>
  leadSheetFromText(`title: ${title}\n\n[C] G4/2 E4/4 C5/4 | [G7] B4/2 [C] C5/2 ||\n`);
const NAMES = ["one", "two", "three"];

let folder = "";
const running: ChildProcess[] = [];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "undervoice-"));
  mkdirSync(join(folder, "in"));
  for (const name of NAMES) writeFileSync(join(folder, `in/${name}.musicxml`), tune(name));
});
afterEach(() => {
  for (const child of running.splice(0)) child.kill("SIGKILL");
  rmSync(folder, { recursive: true, force: true });
});

function started(...words: readonly string[]): ChildProcess {
  const child = spawn(process.execPath, [MAIN, ...words], { cwd: folder, stdio: "ignore" });
  running.push(child);
  return child;
}

async function killedAfter(waitMs: number, child: ChildProcess): Promise<void> {
  const ended = once(child, "exit");
  await pause(waitMs);
  child.kill("SIGKILL");
  await ended;
}

/** Moments from the start of the program to its end, evenly. */
const WAITS = Array.from({ length: KILLS }, (_, index) => ((index + 1) / KILLS) * LAST_MS);

const textAt = (path: string) => readFileSync(join(folder, path), "utf8");
const partsIn = (path: string) => readdirSync(join(folder, path)).filter((name) => name.endsWith(".part"));

test("arranging that is killed leaves the score that was there, or the new one whole", async () => {
  const [status] = await once(started("arrange", "in/one.musicxml", "-o", "whole.musicxml", "-q"), "exit");
  expect(status).toBe(0);
  const whole = textAt("whole.musicxml");
  for (const wait of WAITS) {
    writeFileSync(join(folder, "guitar.musicxml"), "<there-before/>");
    await killedAfter(
      wait,
      started("arrange", "in/one.musicxml", "-o", "guitar.musicxml", "--report", "report.txt"),
    );
    expect([whole, "<there-before/>"], `killed after ${wait} ms`).toContain(textAt("guitar.musicxml"));
    if (existsSync(join(folder, "report.txt"))) expect(textAt("report.txt")).toMatch(/\n$/);
  }
  // What a killed run may leave under a name of its own goes with a later one.
  const left = join(folder, ".undervoice-00000000-0000-0000-0000-000000000000.part");
  writeFileSync(left, "half");
  utimesSync(left, 0, 0);
  await once(started("arrange", "in/one.musicxml", "-o", "guitar.musicxml", "-q"), "exit");
  expect(textAt("guitar.musicxml")).toBe(whole);
  expect(existsSync(left)).toBe(false);
}, 300_000);

test("a watch that is killed leaves whole scores only, and one that follows makes the rest", async () => {
  const watch = () => started("watch", "in", "out", "--still", "0");
  const wholeIn = (path: string) =>
    Object.fromEntries(
      readdirSync(join(folder, path))
        .filter((name) => name.endsWith(".musicxml"))
        .map((name) => [name, textAt(join(path, name))]),
    );
  for (const wait of WAITS) {
    rmSync(join(folder, "out"), { recursive: true, force: true });
    await killedAfter(wait, watch());
    if (!existsSync(join(folder, "out"))) continue;
    for (const text of Object.values(wholeIn("out"))) expect(text).toMatch(/<\/score-partwise>\s*$/);
    if (readdirSync(join(folder, "out")).includes(".undervoice-written.json"))
      expect(() => JSON.parse(textAt("out/.undervoice-written.json"))).not.toThrow();
    // One more, so that the one that follows is at work when it is ended, even where nothing was left to do.
    const late = join(folder, "in/late.musicxml");
    writeFileSync(late, tune("late"));
    const next = watch();
    const ended = once(next, "exit");
    await vi.waitFor(() => expect(Object.keys(wholeIn("out"))).toHaveLength(NAMES.length + 1), {
      timeout: 60_000,
      interval: 20,
    });
    next.kill("SIGINT");
    expect((await ended)[0]).toBe(0);
    rmSync(late);
    expect(readdirSync(join(folder, "out")).filter((name) => name.endsWith(".note.txt"))).toEqual([]);
    for (const text of Object.values(wholeIn("out"))) expect(text).toMatch(/<\/score-partwise>\s*$/);
  }
  expect(partsIn("in")).toEqual([]);
}, 600_000);

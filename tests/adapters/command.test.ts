import { spawnSync } from "node:child_process";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { powershellFaults } from "../support/powershell-faults.js";

const file = (name: string) =>
  fileURLToPath(new URL(`../../plugin-adapters/command/${name}`, import.meta.url));
const SHELL_SCRIPT = file("arrange-for-guitar.sh");
const POWERSHELL_SCRIPT = file("arrange-for-guitar.ps1");

const TUNE = leadSheetFromText("title: Two Geese\n\n[C] G4/2 E4/4 C5/4 | [G7] B4/2 [C] C5/2 ||\n");
const OTHER_TUNE = leadSheetFromText("title: Three Geese\n\n[C] E4/2 G4/4 C5/4 | [G7] B4/2 [C] C5/2 ||\n");

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "undervoice-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const inFolder = (name: string) => join(folder, name);

/** A program that only writes down what it was called with. */
function pretend(program: string): void {
  const path = inFolder(`bin/${program}`);
  mkdirSync(inFolder("bin"), { recursive: true });
  writeFileSync(path, `#!/bin/sh\nprintf '%s\\n' "${program}" "$@" >>"${inFolder("called")}"\n`);
  chmodSync(path, 0o755);
}

const called = () =>
  existsSync(inFolder("called")) ? readFileSync(inFolder("called"), "utf8").trim().split("\n") : [];

function arrange(words: readonly string[], environment: Readonly<Record<string, string>> = {}) {
  const { UNDERVOICE_SERVICE: _other, ...inherited } = process.env;
  return spawnSync(SHELL_SCRIPT, words, {
    cwd: folder,
    encoding: "utf8",
    env: { ...inherited, PATH: `${inFolder("bin")}:${process.env.PATH}`, ...environment },
  });
}

describe("the shell script", () => {
  test.each([
    ["sh", ["-n"]],
    ["dash", ["-n"]],
    ["shellcheck", ["--shell=sh", "--severity=style"]],
  ])("%s finds nothing wrong in it", (program, flags) => {
    const { status, stdout, error } = spawnSync(program, [...flags, SHELL_SCRIPT], { encoding: "utf8" });
    if (error !== undefined) return console.warn(`${program} is not on this machine: not asked.`);
    expect(stdout).toBe("");
    expect(status).toBe(0);
  });

  test("says what it wrote, compressed where that is asked, and leaves nothing else", () => {
    writeFileSync(inFolder("tune.musicxml"), TUNE);
    const { status, stdout, stderr } = arrange(["--compressed", "tune.musicxml"]);
    expect(stderr).toBe("");
    expect(status).toBe(0);
    expect(stdout).toBe("Written: ./tune-guitar.mxl\n");
    expect(readFileSync(inFolder("tune-guitar.mxl")).subarray(0, 2).toString()).toBe("PK");
    expect(readdirSync(folder).toSorted()).toEqual(["tune-guitar.mxl", "tune.musicxml"]);
  });

  test("opens the guitar score with the system's program or with the one named", () => {
    pretend("xdg-open");
    pretend("open");
    pretend("my-engraver");
    writeFileSync(inFolder("tune.musicxml"), TUNE);
    expect(arrange(["--open", "tune.musicxml"]).status).toBe(0);
    expect(called().slice(-1)).toEqual(["./tune-guitar.musicxml"]);
    expect(arrange(["--open-with", "my-engraver", "tune.musicxml"]).status).toBe(0);
    expect(called().slice(-2)).toEqual(["my-engraver", "./tune-guitar.musicxml"]);
  });

  test("shows the note where there is no guitar score to open", () => {
    pretend("xdg-open");
    pretend("open");
    writeFileSync(inFolder("tune.musicxml"), TUNE.slice(0, 200));
    const { status, stderr } = arrange(["--open", "tune.musicxml"]);
    expect(status).toBe(1);
    expect(stderr).toContain("error:");
    expect(called().slice(-1)).toEqual(["./tune.musicxml.note.txt"]);
  });

  test("keeps a guitar score that differs under another name, time after time", () => {
    writeFileSync(inFolder("tune.musicxml"), TUNE);
    writeFileSync(inFolder("tune-guitar.musicxml"), "hours of work");
    expect(arrange(["tune.musicxml"]).stdout).toContain("Kept: ./tune-earlier-1-guitar.musicxml");
    expect(readFileSync(inFolder("tune-earlier-1-guitar.musicxml"), "utf8")).toBe("hours of work");
    writeFileSync(inFolder("tune-guitar.musicxml"), "more work");
    writeFileSync(inFolder("tune.musicxml"), OTHER_TUNE);
    expect(arrange(["tune.musicxml"]).status).toBe(0);
    expect(readFileSync(inFolder("tune-earlier-2-guitar.musicxml"), "utf8")).toBe("more work");
    expect(readFileSync(inFolder("tune-guitar.musicxml"), "utf8")).toContain("Three Geese");
  });

  test("replaces a link in the place of the guitar score, and not what it leads to", () => {
    writeFileSync(inFolder("diary"), "dear diary");
    writeFileSync(inFolder("tune.musicxml"), TUNE);
    symlinkSync("diary", inFolder("tune-guitar.musicxml"));
    expect(arrange(["tune.musicxml"]).status).toBe(0);
    expect(readFileSync(inFolder("diary"), "utf8")).toBe("dear diary");
    expect(readFileSync(inFolder("tune-guitar.musicxml"), "utf8")).toContain("<score-partwise");
  });

  test("says so where there is neither a service nor the program", () => {
    writeFileSync(inFolder("tune.musicxml"), TUNE);
    const { status, stderr } = arrange(["tune.musicxml"], { UNDERVOICE_NODE: "no-such-node" });
    expect(status).toBe(69);
    expect(stderr).toContain("neither a service answers");
    expect(readdirSync(folder).toSorted()).toEqual(["tune.musicxml", "tune.musicxml.note.txt"]);
  });

  test("does without a service that is not running", () => {
    writeFileSync(inFolder("tune.musicxml"), TUNE);
    expect(arrange(["--service", "http://127.0.0.1:9", "tune.musicxml"]).status).toBe(0);
    expect(readdirSync(folder).toSorted()).toEqual(["tune-guitar.musicxml", "tune.musicxml"]);
  });

  test("takes an option that there is not for what it is, and says which", () => {
    writeFileSync(inFolder("tune.musicxml"), TUNE);
    const { status, stderr } = arrange(["tune.musicxml", "colour=red"]);
    expect(status).toBe(2);
    expect(stderr).toContain("--colour");
  });

  test.each([
    [[], 2, "which score"],
    [["--colour", "tune.musicxml"], 2, "there is no --colour"],
    [["--output"], 2, "--output lacks its value"],
    [["tune.musicxml", "full"], 2, 'NAME=VALUE, not "full"'],
    [["nothing.musicxml"], 3, "there is no such file"],
    [["--output", ".", "tune.musicxml"], 3, "it is a folder"],
    [["--output", "no/where.musicxml", "tune.musicxml"], 3, "no file can be written"],
  ])("called with %j it ends with %d and says why", (words, expected, why) => {
    writeFileSync(inFolder("tune.musicxml"), TUNE);
    const { status, stderr } = arrange(words);
    expect(status).toBe(expected);
    expect(stderr).toContain(why);
    expect(readdirSync(folder)).toEqual(["tune.musicxml"]);
  });
});

describe("the PowerShell script, which is read here and not run", () => {
  const script = readFileSync(POWERSHELL_SCRIPT, "utf8");

  test("is PowerShell by its grammar", async () => {
    expect(await powershellFaults(script)).toEqual([]);
    expect(await powershellFaults(script.replace("foreach ($word in", "foreach ($word"))).not.toEqual([]);
  });

  test("has every sign that Windows PowerShell reads alike in every code page", () => {
    expect(script).toMatch(/^[\t\n\r -~]*$/);
  });

  test("uses nothing that came after Windows PowerShell 5.1", () => {
    const code = script.replace(/<#.*?#>/gs, "").replace(/^\s*#.*$/gm, "");
    expect(code).not.toMatch(/\?\?|\?\.|&&|\|\||\bclean\s*\{|-Parallel\b/);
    expect(code).not.toMatch(/\$null\)/); // A string parameter takes $null for "".
  });

  test("writes the same names and notes, and ends with the same statuses, as the shell script", () => {
    const shell = readFileSync(SHELL_SCRIPT, "utf8");
    for (const words of [
      "-guitar",
      "-earlier-",
      ".note.txt",
      "UNDERVOICE_MAIN",
      "UNDERVOICE_NODE",
      "UNDERVOICE_TOKEN",
    ]) {
      expect(script).toContain(words);
      expect(shell).toContain(words);
    }
    for (const [name, status] of [
      ["WronglyAsked", "WRONGLY_ASKED"],
      ["FileTrouble", "FILE_TROUBLE"],
      ["NothingToArrangeWith", "NOTHING_TO_ARRANGE_WITH"],
    ])
      expect(new RegExp(`\\$${name} = (\\d+)`).exec(script)?.[1]).toBe(
        new RegExp(`^${status}=(\\d+)`, "m").exec(shell)?.[1],
      );
  });
});

import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { COMMANDS } from "../../src/cli/commands.js";
import { flagNameOf } from "../../src/cli/flags.js";
import { OPTIONS } from "../../src/options/options.js";
import { runInMemory } from "../support/outside-in-memory.js";
import { powershellFaults } from "../support/powershell-faults.js";

const SHELLS = ["bash", "zsh", "fish", "powershell"] as const;

const folder = mkdtempSync(join(tmpdir(), "undervoice-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const scripts: Record<string, string> = {};
beforeAll(async () => {
  for (const shell of SHELLS) {
    scripts[shell] = (await runInMemory(["completion", shell])).output;
    writeFileSync(join(folder, shell), scripts[shell]);
  }
  writeFileSync(join(folder, "tune one.musicxml"), "");
});

/** What the shell prints, or undefined where it is not on this machine. */
function printed(shell: string, program: string): string | undefined {
  const { stdout, stderr, error } = spawnSync(shell, ["-c", program], { cwd: folder, encoding: "utf8" });
  if (error !== undefined) {
    console.warn(`${shell} is not on this machine: its completion is not tried.`);
    return undefined;
  }
  expect(stderr).toBe("");
  return stdout;
}

test.each(SHELLS)("the script for %s knows every command, every option and every value", (shell) => {
  const script = scripts[shell] ?? "";
  for (const name of Object.keys(COMMANDS)) expect(script).toContain(name);
  for (const [name, option] of Object.entries(OPTIONS)) {
    expect(script).toContain(flagNameOf(name));
    if ("enum" in option) for (const value of option.enum) expect(script).toContain(value);
  }
});

describe("in bash", () => {
  const completed = (...words: readonly string[]) =>
    printed(
      "bash",
      `. ./bash; COMP_WORDS=(${words.map((word) => `'${word}'`).join(" ")}); COMP_CWORD=${words.length - 1}; ` +
        `_undervoice; printf "%s\\n" "\${COMPREPLY[@]}"`,
    )
      ?.trim()
      .split("\n");

  test.each([
    [["undervoice", "ar"], ["arrange"]],
    [["undervoice", "arrange", "--tex"], ["--texture"]],
    [
      ["undervoice", "arrange", "--texture", "f"],
      ["fluent", "full"],
    ],
    [["undervoice", "arrange", "--texture", "=", "l"], ["lean"]],
    [["undervoice", "arrange", "tu"], ["tune one.musicxml"]],
    [["undervoice", "arrange", "-o", "tu"], ["tune one.musicxml"]],
    [["undervoice", "watch", "--comp"], ["--compressed"]],
    [["undervoice", "serve", "t"], [""]],
    [["undervoice", "completion", "f"], ["fish"]],
    [["undervoice", "help", "wat"], ["watch"]],
  ])("%j is completed as %j", (words, expected) => {
    const answer = completed(...words);
    if (answer !== undefined) expect(answer).toEqual(expected);
  });
});

describe("in fish", () => {
  test.each([
    ["undervoice ar", "arrange"],
    ["undervoice arrange --textu", "--texture"],
    ["undervoice arrange --texture fu", "full"],
    ["undervoice completion pow", "powershell"],
    ["undervoice arrange tun", "tune one.musicxml"],
    ["undervoice help wat", "watch"],
  ])("%j is completed as %j", (line, expected) => {
    const answer = printed("fish", `source ./fish; complete -C '${line}'`);
    if (answer === undefined) return;
    const words = answer
      .trim()
      .split("\n")
      .map((row) => row.split("\t")[0]);
    expect(words).toEqual([expected]);
  });
});

describe("in zsh", () => {
  test("the script is loaded without a complaint, both ways", () => {
    const answer = printed(
      "zsh",
      "autoload -Uz compinit; compinit -u -d ./dump; source ./zsh; print -r -- $_comps[undervoice]",
    );
    if (answer !== undefined) expect(answer).toBe("_undervoice\n");
  });

  test.each([
    ["undervoice arr", "undervoice arrange"],
    ["undervoice arrange --textu", "undervoice arrange --texture="],
    ["undervoice arrange --texture=le", "undervoice arrange --texture=lean"],
    ["undervoice completion pow", "undervoice completion powershell"],
  ])("%j becomes %j", (typed, expected) => {
    const answer = printed(
      "zsh",
      // A second zsh with a terminal of its own, into which the line and a tab are typed.
      "zmodload zsh/zpty; zpty shell 'TERM=dumb zsh -f -i'; " +
        "zpty -w shell 'PS1= ; autoload -Uz compinit; compinit -u -d ./dump; source ./zsh; " +
        `show() { print -r -- "<<$BUFFER>>"; BUFFER=; }; zle -N show; bindkey "^X" show; print re""ady'; ` +
        "zpty -r -m shell text '*ready*'; " +
        `zpty -w -n shell $'${typed}\\t\\x18'; zpty -r -m shell text '*<<*>>*'; print -r -- \${\${text##*<<}%%>>*}; zpty -d shell`,
    );
    if (answer !== undefined) expect(answer.trim()).toBe(expected);
  });
});

test("in PowerShell, which is not run here, the script is right by the grammar", async () => {
  expect(await powershellFaults(scripts.powershell ?? "")).toEqual([]);
});

test.each([[[]], [["tcsh"]], [["bash", "zsh"]]])(
  "completion %j is refused, and says which shells there are",
  async (words) => {
    const { status, errors } = await runInMemory(["completion", ...words]);
    expect(status).toBe(2);
    expect(errors).toContain("bash, zsh, fish, powershell");
  },
);

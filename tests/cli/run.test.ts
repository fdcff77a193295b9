import { expect, test } from "vitest";
import { COMMANDS } from "../../src/cli/commands.js";
import { EXIT_CODES } from "../../src/cli/exit-codes.js";
import { flagNameOf } from "../../src/cli/flags.js";
import type { Outside } from "../../src/cli/outside.js";
import { run } from "../../src/cli/run.js";
import { OPTIONS } from "../../src/options/options.js";
import { runInMemory } from "../support/outside-in-memory.js";

test.each([["help"], ["--help"], ["-h"]])("%s lists every command and every exit status", async (word) => {
  const { status, output } = await runInMemory([word]);
  expect(status).toBe(0);
  for (const name of Object.keys(COMMANDS)) expect(output).toContain(`undervoice ${name}`);
  for (const { meaning } of Object.values(EXIT_CODES)) expect(output.replace(/\s+/g, " ")).toContain(meaning);
});

test.each([[["help", "arrange"]], [["arrange", "--help"]]])(
  "%j says every option in a sentence",
  async (words) => {
    const { status, output } = await runInMemory(words);
    expect(status).toBe(0);
    for (const [name, { description }] of Object.entries(OPTIONS)) {
      expect(output).toContain(`--${flagNameOf(name)}`);
      expect(output.replace(/\s+/g, " ")).toContain(description);
    }
  },
);

test("no command at all gets the help and the status of a wrong call", async () => {
  const { status, output, errors } = await runInMemory([]);
  expect(status).toBe(2);
  expect(output).toBe("");
  expect(errors).toContain("Usage:");
});

test.each([["arange"], ["constructor"]])("the unknown command %s is refused by its name", async (word) => {
  const { status, errors } = await runInMemory([word]);
  expect(status).toBe(2);
  expect(errors).toContain(`"${word}"`);
});

const WITH_UNUSED = Object.entries(COMMANDS).flatMap(([name, { options }]) =>
  (Object.keys(OPTIONS) as (keyof typeof OPTIONS)[])
    .filter((option) => !options.includes(option))
    .map((option) => [name, option] as const),
);

test.each(WITH_UNUSED)(
  "%s refuses the option %s by its name, before anything is done",
  async (name, option) => {
    const value = OPTIONS[option].type === "boolean" ? [] : ["1"];
    const { status, output, errors } = await runInMemory([name, `--${flagNameOf(option)}`, ...value]);
    expect(status).toBe(2);
    expect(output).toBe("");
    expect(errors).toContain(`${name} has no use for --${flagNameOf(option)}`);
  },
);

test("the version is the package's", async () => {
  const { output } = await runInMemory(["--version"]);
  expect(output).toMatch(/^\d+\.\d+\.\d+\n$/);
});

test("a mistake of the program's own is said as one, with a status of its own", async () => {
  let errors = "";
  const outside: Outside = {
    read: () => Promise.reject(new Error("the lamp went out")),
    isThere: async () => false,
    isFile: async () => false,
    write: async () => {},
    toStandardOutput: () => {},
    toStandardError: (text) => {
      errors += text;
    },
    duringWork: (_saying, work) => work(),
  };
  expect(await run(["arrange", "geese.musicxml"], outside)).toBe(70);
  expect(errors).toContain("the lamp went out");
  expect(errors).toContain("report it");
});

import { readdirSync, readFileSync } from "node:fs";
import { homedir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { DROPS } from "../../plugin-adapters/host/drops.js";
import { HOST_SCHEMA } from "../../plugin-adapters/host/host-schema.js";
import { HostError, readHost } from "../../plugin-adapters/host/read-host.js";
import { hostRun, lossesOf, optionsOf } from "../../plugin-adapters/host/run-host.js";
import { completeOptions } from "../../src/options/option-checking.js";

const HOST = fileURLToPath(new URL("../../plugin-adapters/host/", import.meta.url));
const examples = readdirSync(join(HOST, "examples"));

const folderHost = { name: "Test", kind: "folder", exportsTo: "exports" };

const host = (fields: object) => readHost(JSON.stringify(fields));

function linesAgainst(fields: object): readonly string[] {
  try {
    host(fields);
  } catch (error) {
    if (error instanceof HostError) return error.lines;
    throw error;
  }
  throw new Error("the manifest was taken");
}

// After a change to the schema: npx vitest run tests/adapters/host.test.ts --update
test("editors find the schema as it is now", async () => {
  await expect(`${JSON.stringify(HOST_SCHEMA, undefined, 2)}\n`).toMatchFileSnapshot(
    join(HOST, "host.schema.json"),
  );
});

test.each(examples)("the example %s can be used as it stands", (example) => {
  const path = join(HOST, "examples", example);
  const read = readHost(readFileSync(path, "utf8"));
  expect(completeOptions(optionsOf(read)).staves).toBe(read.staves);
  expect(hostRun(read, path).kind).toBe(read.kind);
  expect(lossesOf(read)).toHaveLength(read.drops?.length ?? 0);
});

test("the examples show every kind of host and every way to lose something", () => {
  const all = examples.map((example) => readHost(readFileSync(join(HOST, "examples", example), "utf8")));
  expect(all.map(({ kind }) => kind).toSorted()).toEqual(["command", "folder", "script"]);
  expect(new Set(all.flatMap(({ drops }) => drops ?? []))).toEqual(new Set(Object.keys(DROPS)));
});

describe("a manifest is refused by the field", () => {
  test.each([
    [{}, 'the manifest lacks "kind"'],
    [{ kind: "folder", exportsTo: "x" }, 'the manifest lacks "name"'],
    [{ name: "Test", kind: "folder" }, 'the manifest lacks "exportsTo"'],
    [{ ...folderHost, kind: "telepathy" }, '"kind" is folder, command or script, not "telepathy"'],
    [{ ...folderHost, colour: "red" }, 'the manifest has no field "colour"'],
    [{ ...folderHost, opens: "system" }, 'the manifest has no field "opens"'],
    [{ ...folderHost, staves: "five" }, '"staves" is one of parts, joined, tab, not "five"'],
    [{ ...folderHost, drops: ["notes"] }, '"drops.0" is one of own-mark'],
    [{ ...folderHost, options: { texture: "thick" } }, '"options.texture" is one of fluent'],
    [{ ...folderHost, options: { frets: 99 } }, '"options.frets" must be <= 24, and is 99'],
    [{ ...folderHost, options: { staves: "tab" } }, '"options" has no field "staves"'],
    [{ ...folderHost, drops: ["chord-diagrams"], options: { diagrams: true } }, "asks for diagrams"],
  ])("%j", (fields, line) => {
    expect(linesAgainst(fields).join("\n")).toContain(line);
  });

  test("every thing wrong has a line of its own", () => {
    expect(linesAgainst({ ...folderHost, colour: "red", staves: "five" })).toHaveLength(2);
  });

  test("and so is a text that is no JSON", () => {
    expect(() => readHost("{")).toThrow(/no JSON/);
  });
});

test("folders are looked for from the manifest on, and guitar scores lie beside the exports if nothing is said", () => {
  expect(hostRun(host(folderHost), "/music/host.json")).toEqual({
    kind: "folder",
    inFolder: "/music/exports",
    outFolder: "/music/exports",
    isCompressed: false,
    keepsOwnMark: true,
  });
  const fields = {
    ...folderHost,
    exportsTo: "~/in",
    importsFrom: "/out",
    compressed: true,
    drops: ["own-mark"],
  };
  expect(hostRun(host(fields), "/music/host.json")).toEqual({
    kind: "folder",
    inFolder: join(homedir(), "in"),
    outFolder: "/out",
    isCompressed: true,
    keepsOwnMark: false,
  });
});

test.each([
  ["linux", "nothing", ["/bin/sh", "arrange-for-guitar.sh"]],
  ["darwin", "system", ["/bin/sh", "arrange-for-guitar.sh", "--open"]],
  ["linux", { program: "my-engraver" }, ["/bin/sh", "arrange-for-guitar.sh", "--open-with", "my-engraver"]],
  ["win32", "system", ["powershell.exe", "arrange-for-guitar.ps1", "-Open"]],
  [
    "win32",
    { program: "my-engraver" },
    ["powershell.exe", "arrange-for-guitar.ps1", "-OpenWith", "my-engraver"],
  ],
] as const)(
  "on %s a command that opens %j is a script of that system's shell",
  (platform, opens, expected) => {
    const run = hostRun(host({ name: "Test", kind: "command", opens }), "host.json", platform);
    if (run.kind !== "command") throw new Error("no command");
    const words = [run.program, ...run.words].map((word) => word.replace(/^.*(?=arrange-for-guitar)/, ""));
    expect(words).toEqual(expect.arrayContaining([...expected]));
  },
);

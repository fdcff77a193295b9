import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { DROPS } from "../../plugin-adapters/host/drops.js";
import { HOST_SCHEMA } from "../../plugin-adapters/host/host-schema.js";
import { COMMANDS } from "../../src/cli/commands.js";
import { OPTIONS } from "../../src/options/options.js";

const ADAPTERS = fileURLToPath(new URL("../../plugin-adapters/", import.meta.url));
const guides = readdirSync(ADAPTERS, { recursive: true, encoding: "utf8" })
  .filter((path) => path.endsWith("README.md"))
  .toSorted();

const read = (path: string) => readFileSync(join(ADAPTERS, path), "utf8");

test("every adapter has a guide", () => {
  expect(guides).toEqual([
    "README.md",
    "command/README.md",
    "script-client/README.md",
    "watched-folder/README.md",
  ]);
});

describe.each(guides)("%s", (guide) => {
  const text = read(guide);

  test("links to no file that there is not", () => {
    for (const [, link = ""] of text.matchAll(/\]\(([^)]+)\)/g))
      expect(existsSync(join(ADAPTERS, dirname(guide), link)), link).toBe(true);
  });

  test("names no command and no option that there is not", () => {
    for (const [, command] of text.matchAll(/undervoice (?:help )?([a-z]+)/g))
      expect(["help", ...Object.keys(COMMANDS)]).toContain(command);
    for (const [, option] of text.matchAll(/"?\b([a-z][A-Za-z]+)=[a-zA-Z]/g))
      expect(OPTIONS).toHaveProperty(option ?? "");
  });
});

test("the guide explains every field of a manifest and everything that can be dropped", () => {
  const text = read("README.md");
  const fields = HOST_SCHEMA.oneOf.flatMap(({ properties }) => Object.keys(properties));
  for (const name of [...fields, ...Object.keys(DROPS)])
    expect(text).toContain(`\`${name}\``.replace("`$schema`", "$schema"));
});

test("the script in the client's guide is a script, and calls the client as it is", () => {
  const [, script = ""] = /```js\n(.*?)```/s.exec(read("script-client/README.md")) ?? [];
  const called: unknown[][] = [];
  new Function("undervoiceRoundTrip", script)((...words: unknown[]) => called.push(words));
  expect(called).toHaveLength(1);
  expect(Object.keys(called[0]?.[0] as object).toSorted()).toEqual(["exportScore", "importScore", "request"]);
});

import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import * as face from "../src/index.js";
import { withCurrentParts } from "./support/readme-parts.js";

const file = (path: string) => fileURLToPath(new URL(`../${path}`, import.meta.url));
const readme = readFileSync(file("README.md"), "utf8");
const scripts: Record<string, string> = JSON.parse(readFileSync(file("package.json"), "utf8")).scripts;

describe("the README", () => {
  // After a change to a table or to what the sample comes out as: npx vitest run tests/readme.test.ts --update
  test("shows the options, the exit statuses and a summary as they are now", async () => {
    await expect(await withCurrentParts(readme)).toMatchFileSnapshot(file("README.md"));
  });

  test("names no npm script that there is not", () => {
    const named = [...readme.matchAll(/npm (?:run ([\w-]+)|(test)\b)/g)].map(
      ([, run, test]) => run ?? test ?? "",
    );
    expect(named).toEqual(expect.arrayContaining(["sample", "test"]));
    for (const name of named) expect(scripts).toHaveProperty(name);
  });

  test("names and links to no file that there is not", () => {
    const linked = [...readme.matchAll(/\]\(([^)]+)\)/g)].map(([, path]) => path ?? "");
    const named = [...readme.matchAll(/sample-scores\/[\w-]+\.musicxml/g)].map(([path]) => path);
    for (const path of [...linked, ...named]) expect(existsSync(file(path)), path).toBe(true);
  });

  test("imports from the library what the library exports", () => {
    const [, imported = ""] = /import \{ ([^}]+) \} from "undervoice"/.exec(readme) ?? [];
    for (const name of imported.split(", ")) expect(face).toHaveProperty(name);
  });
});

import { existsSync, readFileSync, statSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { VERSION } from "../src/version.js";

const file = (path: string) => fileURLToPath(new URL(`../${path}`, import.meta.url));
const description = JSON.parse(readFileSync(file("package.json"), "utf8"));

test("what the package promises to run and to be imported is there once it is built", () => {
  const promised = [description.bin.undervoice, ...Object.values<string>(description.exports["."])];
  for (const path of promised) expect(existsSync(file(path)), path).toBe(true);
  expect(statSync(file(description.bin.undervoice)).mode & 0o111).not.toBe(0);
});

test("a report names the version of the package", () => expect(VERSION).toBe(description.version));

test("every dependency is accounted for in the developers' page", () => {
  const page = readFileSync(file("DEVELOPERS.md"), "utf8");
  const [, table = ""] = page.split("## Dependencies");
  const names = Object.keys({ ...description.dependencies, ...description.devDependencies });
  const silent = names.filter((name) => !name.startsWith("@types/") && !table.includes(`\`${name}\``));
  expect(silent).toEqual([]);
});

test("a dependency that is pinned says the version it is pinned to", () => {
  expect(description.devDependencies.tonal).toBe("6.4.3");
  expect(readFileSync(file("DEVELOPERS.md"), "utf8")).toContain("Pinned to 6.4.3");
});

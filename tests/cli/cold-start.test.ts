import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

/** The program as it is installed; `npm test` builds it first. */
const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
if (!existsSync(MAIN)) throw new Error("The command line is not built: run npm run build.");

/** The text of a file and of all that it needs before its first line runs. */
function loadedWith(path: string, seen = new Set<string>()): string {
  if (seen.has(path)) return "";
  seen.add(path);
  const text = readFileSync(path, "utf8");
  const needed = [...text.matchAll(/(?:from|import)\s*"(\.\/[^"]+)"/g)].map(([, name = ""]) => name);
  return text + needed.map((name) => loadedWith(join(dirname(path), name), seen)).join("");
}

test("what the help needs is loaded without the arranger, its packages and the tables of harmony", () => {
  const text = loadedWith(MAIN);
  expect(text).toContain("undervoice help [COMMAND]");
  for (const sign of ["no-way-through", "score-partwise", "minor-seventh", "Fraction"])
    expect(text, sign).not.toContain(sign);
});

test("what arranging needs is there once it is asked for", () => {
  const worker = join(dirname(MAIN), "worker.js");
  for (const sign of ["no-way-through", "score-partwise", "minor-seventh"])
    expect(loadedWith(worker)).toContain(sign);
});

test("the terms of every package that is in the program go along with it", () => {
  const terms = readFileSync(join(dirname(MAIN), "LICENSES.txt"), "utf8");
  for (const name of ["fast-xml-parser", "fflate", "fraction.js", "saxes"]) {
    expect(terms).toContain(name);
    expect(terms.split(`${name} `)[1]).toMatch(/^[\d.]+, (MIT|ISC)/);
  }
});

test("no package that compiles text into code is part of the program", () => {
  const everything = loadedWith(MAIN) + loadedWith(join(dirname(MAIN), "worker.js"));
  expect(everything).not.toMatch(/new Function\(|\beval\(/);
});

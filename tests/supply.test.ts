import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, expect, test } from "vitest";

const CHECKOUT = fileURLToPath(new URL("../", import.meta.url));
const SAMPLE = "package/sample-scores/slow-bell.musicxml";

/** An empty folder with the packed program in it, as it would be sent out. */
const folder = mkdtempSync(join(tmpdir(), "undervoice-packed-"));
let packed: readonly string[] = [];
beforeAll(() => {
  // What is built is packed: `npm test` builds first.
  const [said] = JSON.parse(
    execFileSync("npm", ["pack", "--json", "--ignore-scripts", "--pack-destination", folder], {
      cwd: CHECKOUT,
      encoding: "utf8",
      stdio: ["ignore", "pipe", "ignore"],
    }),
  ) as readonly { readonly filename: string; readonly files: readonly { readonly path: string }[] }[];
  packed = (said?.files ?? []).map(({ path }) => path);
  execFileSync("tar", ["-xzf", join(folder, said?.filename ?? "")], { cwd: folder });
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const undervoice = (...words: string[]) =>
  execFileSync(process.execPath, ["package/dist/cli/main.js", ...words], { cwd: folder, encoding: "utf8" });

test("the package holds what runs: no sources, tests, measurements or notes of the compiler", () => {
  expect(packed).toContain("dist/cli/main.js");
  expect(packed).toContain("dist/index.d.ts");
  expect(packed.filter((path) => /\.ts$/.test(path) && !/\.d\.ts$/.test(path))).toEqual([]);
  expect(
    packed.filter((path) => /^(src|tests|measure|dist\/measure|\.ci)\/|tsbuildinfo$|tsconfig/.test(path)),
  ).toEqual([]);
});

test("packed and unpacked in an empty folder, without any other package, the program arranges", () => {
  expect(readdirSync(join(folder, "package"))).not.toContain("node_modules");
  undervoice("arrange", SAMPLE, "-o", "one.musicxml", "--quiet");
  expect(readFileSync(join(folder, "one.musicxml"), "utf8")).toContain("<sign>TAB</sign>");
  undervoice("batch", SAMPLE, "-o", "shelf");
  expect(readdirSync(join(folder, "shelf"))).toContain("batch-summary.html");
}, 120_000);

test("with its dependencies beside it the packed library is imported by its name, with its types", () => {
  const modules = join(folder, "node_modules");
  mkdirSync(modules);
  for (const name of readdirSync(join(CHECKOUT, "node_modules")))
    symlinkSync(join(CHECKOUT, "node_modules", name), join(modules, name));
  symlinkSync(join(folder, "package"), join(modules, "undervoice"));
  const code = 'import("undervoice").then(({ completeOptions }) => console.log(completeOptions({}).texture))';
  const said = execFileSync(process.execPath, ["-e", code], { cwd: folder, encoding: "utf8" });
  expect(said.trim()).toBe("fluent");
  expect(packed).toContain(
    JSON.parse(readFileSync(join(CHECKOUT, "package.json"), "utf8")).exports["."].types.slice(2),
  );
});

/** Terms under which a package may go along with a program under the MIT licence, as SPDX names them. */
const ALLOWED = new Set([
  "MIT",
  "ISC",
  "0BSD",
  "BSD-2-Clause",
  "BSD-3-Clause",
  "Apache-2.0",
  "BlueOak-1.0.0",
]);

test("every package that goes along with the program has terms that allow it", () => {
  const { packages } = JSON.parse(readFileSync(join(CHECKOUT, "package-lock.json"), "utf8")) as {
    readonly packages: Readonly<Record<string, { readonly dev?: boolean; readonly license?: string }>>;
  };
  const shipped = Object.entries(packages).filter(([path, { dev }]) => path !== "" && dev !== true);
  expect(shipped.length).toBeGreaterThan(0);
  expect(shipped.filter(([, { license }]) => !ALLOWED.has(license ?? "none")).map(([path]) => path)).toEqual(
    [],
  );
});

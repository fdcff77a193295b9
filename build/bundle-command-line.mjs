import { chmodSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { build } from "esbuild";

/**
 * Makes the command line out of its sources: a few files in place of two hundred, so that it starts in no time.
 * What a command needs is in files of its own, read when it runs; so is the worker of a batch. The service and the
 * adapters are taken from the build as they are.
 */
const FOLDER = "dist/cli";

const { metafile } = await build({
  entryPoints: { main: "src/cli/main.ts", worker: "src/work/workers/worker.ts" },
  outdir: FOLDER,
  chunkNames: "part-[hash]",
  bundle: true,
  splitting: true,
  format: "esm",
  platform: "node",
  target: "node20",
  external: ["#built/*"],
  minifySyntax: true,
  minifyWhitespace: true,
  sourcemap: true,
  sourcesContent: false,
  metafile: true,
  logLevel: "warning",
});

const made = new Set(Object.keys(metafile.outputs).map((path) => basename(path)));
for (const name of readdirSync(FOLDER))
  if (/\.js(\.map)?$/.test(name) && !made.has(name)) rmSync(join(FOLDER, name));
chmodSync(join(FOLDER, "main.js"), 0o755);
writeFileSync(join(FOLDER, "LICENSES.txt"), licensesOf(Object.keys(metafile.inputs)));

/** The terms of the packages that are in the bundle, which ask to go along with every copy. */
function licensesOf(inputs) {
  const folders = inputs.map((path) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0]);
  const texts = [...new Set(folders)].filter(Boolean).toSorted().map(licenseIn);
  return `In these files are parts of other packages, each under its own terms:\n\n${texts.join("\n\n")}\n`;
}

function licenseIn(folder) {
  const { name, version, license } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
  const file = readdirSync(folder).find((entry) => /^licen[sc]e/i.test(entry));
  const text = file === undefined ? "" : `\n\n${readFileSync(join(folder, file), "utf8").trim()}`;
  return `${name} ${version}, ${license}${text}`;
}

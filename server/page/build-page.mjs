// Puts the page together: bundles its scripts, copies what stands beside them. `npm run build`
import { createHash } from "node:crypto";
import { copyFileSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";

const at = (path) => fileURLToPath(new URL(path, import.meta.url));
const source = at("./");
const target = at("../../dist/server/page/");
const samples = at("../../sample-scores/");
const modules = at("../../node_modules/");
const engraver = `${modules}verovio/`;

const build = await bundler();
rmSync(target, { recursive: true, force: true });
for (const folder of ["", "verovio", "samples", "fonts", "licences"])
  mkdirSync(target + folder, { recursive: true });

const { metafile } = await build({
  entryPoints: {
    main: `${source}main.ts`,
    "core-worker": `${source}core/core-worker.ts`,
    "engraver-worker": `${source}score/engraver-worker.ts`,
  },
  outdir: target,
  bundle: true,
  format: "esm",
  target: "es2022",
  minify: true,
  legalComments: "none",
  metafile: true,
  alias: { undervoice: at("../../src/index.ts") },
  logLevel: "warning",
});

for (const file of ["index.html", "page.css", "icon.svg", "manifest.webmanifest"])
  copyFileSync(source + file, target + file);
// The engraver's own files, unchanged: another licence, so they are not bundled.
for (const file of ["verovio.mjs", "verovio-module.mjs"])
  copyFileSync(`${engraver}dist/${file}`, `${target}verovio/${file}`);
copyFileSync(`${engraver}package.json`, `${target}verovio/package.json`);

for (const file of readdirSync(`${source}licences`))
  copyFileSync(`${source}licences/${file}`, `${target}licences/${file}`);

writeFileSync(`${target}licences/packages.txt`, licencesOf(metafile));

// A face as wide as the one the engraver reckons with, so that words under notes stand as far apart as it thinks.
const faces = `${modules}@fontsource/tinos/`;
for (const set of ["latin", "latin-ext"])
  for (const face of ["400-normal", "400-italic", "700-normal"])
    copyFileSync(`${faces}files/tinos-${set}-${face}.woff2`, `${target}fonts/tinos-${set}-${face}.woff2`);
copyFileSync(`${faces}LICENSE`, `${target}fonts/LICENSE`);

const tunes = readdirSync(samples).filter((file) => file.endsWith(".musicxml"));
for (const file of tunes) copyFileSync(samples + file, `${target}samples/${file}`);
const titleOf = (file) =>
  /<(?:work-title|movement-title)>([^<]*)</.exec(readFileSync(samples + file, "utf8"))?.[1] ?? file;
writeFileSync(
  `${target}samples/samples.json`,
  JSON.stringify(tunes.map((file) => ({ file, title: titleOf(file).replace("&apos;", "'") }))),
);

// Last, since it names all the others.
const files = readdirSync(target, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && !/LICENSE|package\.json/.test(entry.name))
  .map((entry) => relative(target, join(entry.parentPath, entry.name)).split(sep).join("/"))
  .sort();
const state = createHash("sha256");
for (const file of files) state.update(file).update(readFileSync(target + file));
await build({
  entryPoints: { "service-worker": `${source}service-worker.ts` },
  outdir: target,
  bundle: true,
  format: "iife",
  target: "es2022",
  minify: true,
  define: { PAGE_FILES: JSON.stringify(files), PAGE_STATE: JSON.stringify(state.digest("hex").slice(0, 16)) },
  logLevel: "warning",
});

/** The licence of every package that is in the scripts, as it comes with it. */
function licencesOf({ inputs }) {
  const names = Object.keys(inputs).flatMap(
    (path) => /node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1] ?? [],
  );
  return [...new Set(names)]
    .sort()
    .map((name) => {
      const file = readdirSync(modules + name).find((one) => /^licen[cs]e/i.test(one));
      const { version, license } = JSON.parse(readFileSync(`${modules}${name}/package.json`, "utf8"));
      const text =
        file === undefined ? "" : `\n${readFileSync(`${modules}${name}/${file}`, "utf8").trim()}\n`;
      return `${name} ${version}: ${license}\n${text}`;
    })
    .join("\n\n");
}

/** The bundler; where only what runs is installed there is none, and the page stays as it was built. */
async function bundler() {
  try {
    return (await import("esbuild")).build;
  } catch (error) {
    if (error.code !== "ERR_MODULE_NOT_FOUND") throw error;
    console.warn("The page is not built: esbuild is not installed; npm ci installs it.");
    process.exit(0);
  }
}

import { mkdirSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { Ajv } from "ajv";
import standaloneCode from "ajv/dist/standalone/index.js";
import { build } from "esbuild";

/**
 * Makes checks of JSON out of our schemas, as code: the program itself compiles none. They are written beside the
 * sources, for tests and bundles, and into the build.
 *
 * Each set: a module that gives the schemas by the names of their checks, and where the checks go.
 */
const SETS = [
  {
    schemas: `
      import { BATCH_SCHEMA } from "./src/batch/batch-schema.ts";
      import { OPTIONS_SCHEMA } from "./src/options/options-schema.ts";
      import { WISH_SCHEMAS, WISHES_FILE_SCHEMA } from "./src/wishes/wishes-schema.ts";
      export default {
        fitsBatchSummary: BATCH_SCHEMA,
        fitsOptions: OPTIONS_SCHEMA,
        fitsWishesFile: WISHES_FILE_SCHEMA,
        fitsGrip: WISH_SCHEMAS.grip,
        fitsPlay: WISH_SCHEMAS.play,
        fitsAvoid: WISH_SCHEMAS.avoid,
        fitsTexture: WISH_SCHEMAS.texture,
        fitsMelody: WISH_SCHEMAS.melody,
      };`,
    into: ["src/json/validators.js", "dist/json/validators.js"],
  },
  {
    schemas: `
      import { HOST_SCHEMA } from "./plugin-adapters/host/host-schema.ts";
      export default { fitsHost: HOST_SCHEMA };`,
    into: ["plugin-adapters/host/validators.js", "dist/plugin-adapters/host/validators.js"],
  },
];

/** In place of the library's face, which needs the checks that are being made: what schemas take from it. */
const face = {
  name: "face",
  setup(building) {
    building.onResolve({ filter: /^undervoice$/ }, () => ({ path: "face", namespace: "face" }));
    building.onLoad({ filter: /.*/, namespace: "face" }, () => ({
      contents: `
        export { OPTIONS } from "./src/options/options.ts";
        export { OPTIONS_SCHEMA } from "./src/options/options-schema.ts";`,
      resolveDir: ".",
      loader: "ts",
    }));
  },
};

for (const { schemas, into } of SETS) {
  const code = await checksOf(await schemasIn(schemas));
  for (const path of into) {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, code);
  }
}

async function schemasIn(contents) {
  const { outputFiles } = await build({
    stdin: { contents, resolveDir: ".", loader: "ts" },
    bundle: true,
    write: false,
    format: "esm",
    platform: "node",
    plugins: [face],
  });
  const text = Buffer.from(outputFiles[0].contents).toString("base64");
  return (await import(`data:text/javascript;base64,${text}`)).default;
}

/** One module of plain code; what it needs of ajv at run time is in it. */
async function checksOf(schemas) {
  const ajv = new Ajv({
    allErrors: true,
    verbose: true,
    discriminator: true,
    code: { source: true, esm: true, lines: false },
    schemas: Object.entries(schemas).map(([name, { $schema: _dialect, ...schema }]) => ({
      $id: name,
      ...schema,
    })),
  });
  const contents = standaloneCode(ajv, Object.fromEntries(Object.keys(schemas).map((name) => [name, name])));
  const { outputFiles } = await build({
    stdin: { contents, resolveDir: ".", loader: "js" },
    bundle: true,
    write: false,
    format: "esm",
    minifyWhitespace: true,
  });
  return outputFiles[0].text;
}

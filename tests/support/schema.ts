import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { isSharedHere, SHARED } from "./shared.js";

const SCHEMA = join(SHARED, "standards/musicxml-4.0");

/** Whether the schema of MusicXML 4.0 and the program that checks it are on this machine. */
export const isSchemaHere = isSharedHere && spawnSync("xmllint", ["--version"]).status === 0;
if (!isSchemaHere) console.warn("xmllint or the MusicXML schema is missing: outputs are not validated.");

/** What is wrong with a score by the schema; empty where it is valid. */
export function schemaErrors(xml: string): string {
  const folder = mkdtempSync(join(tmpdir(), "schema-"));
  try {
    const file = join(folder, "score.musicxml");
    writeFileSync(file, xml);
    const verdict = spawnSync(
      "xmllint",
      ["--noout", "--nonet", "--schema", join(SCHEMA, "musicxml.xsd"), file],
      {
        encoding: "utf8",
        env: { ...process.env, XML_CATALOG_FILES: join(SCHEMA, "catalog.xml") },
      },
    );
    return verdict.status === 0 ? "" : verdict.stderr;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

import { spawn } from "node:child_process";
import { once } from "node:events";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { portInTest } from "../server/service-in-test.js";
import { type AdapterInTest, adapterContract, type ExportedScore } from "./contract.js";
import { bytesAt, folderPair, notesFor, strayFiles } from "./folder-pair.js";

const SCRIPT = fileURLToPath(new URL("../../plugin-adapters/command/arrange-for-guitar.sh", import.meta.url));
const NOWHERE = "/nowhere/main.js";

async function command(environment: Readonly<Record<string, string>>): Promise<AdapterInTest> {
  const pair = folderPair(true);
  const names = new Set<string>();

  async function arrangedOne(
    { name, bytes }: ExportedScore,
    options: Readonly<Record<string, string | number | boolean>>,
  ) {
    const path = join(pair.inFolder, name);
    names.add(name);
    writeFileSync(path, bytes);
    const before = bytesAt(path.replace(/\.\w+$/, "-guitar.musicxml"));
    const pairs = Object.entries(options).map(([option, value]) => `${option}=${value}`);
    const child = spawn(SCRIPT, [path, ...pairs], {
      env: { ...process.env, ...environment },
      stdio: "ignore",
    });
    const [status] = (await once(child, "exit")) as [number];
    const guitarScore = bytesAt(path.replace(/\.\w+$/, "-guitar.musicxml"));
    const notes = notesFor(name, pair.inFolder);
    if ((status === 0) !== (notes.length === 0))
      throw new Error(`status ${status} with ${notes.length} notes`);
    return {
      exported: bytesAt(path) ?? new Uint8Array(0),
      guitarScore: status === 0 || before === undefined ? guitarScore : before,
      notes,
    };
  }

  return {
    roundTrip: (scores, options = {}) => Promise.all(scores.map((score) => arrangedOne(score, options))),
    leftovers: () => strayFiles(pair, names),
    close: async () => pair.remove(),
  };
}

adapterContract("the command without a service", () => command({ UNDERVOICE_SERVICE: "" }));

const port = await portInTest();
adapterContract("the command with a service, and no program to fall back on", () =>
  command({ UNDERVOICE_SERVICE: `http://127.0.0.1:${port}`, UNDERVOICE_MAIN: NOWHERE, no_proxy: "*" }),
);

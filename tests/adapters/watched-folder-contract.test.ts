import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll } from "vitest";
import { completeOptions } from "#built/options/option-checking.js";
import { openWorkerPool } from "#built/work/workers/worker-pool.js";
import type { WatchEvent } from "../../plugin-adapters/watched-folder/watch-event.js";
import { type WatchedFolder, watchFolder } from "../../plugin-adapters/watched-folder/watch-folder.js";
import { type AdapterInTest, adapterContract, type ExportedScore } from "./contract.js";
import { bytesAt, folderPair, notesFor, strayFiles } from "./folder-pair.js";

const RECORD = ".undervoice-written.json";

const pool = openWorkerPool({ workers: 2, workMs: 60_000, workerMemoryMb: 1_024 });
afterAll(() => pool.close());

async function watchedFolder(isOneFolder: boolean): Promise<AdapterInTest> {
  const pair = folderPair(isOneFolder);
  const names = new Set<string>();
  const watched: WatchedFolder[] = [];
  let hear = (_event: WatchEvent) => {};

  /** Options belong to the watch, so each round trip has one of its own. */
  async function roundTrip(scores: readonly ExportedScore[], options = {}) {
    const folder = await watchFolder({
      ...pair,
      options: completeOptions(options),
      isCompressed: false,
      keepsOwnMark: true,
      arrange: (order) => pool.answer(order),
      pace: { stillMs: 60, quickLookMs: 15, slowLookMs: 100, readAgainMs: 60 },
      onEvent: (event) => hear(event),
    });
    watched.push(folder);
    const waiting = new Set(scores.map(({ name }) => name));
    const done = new Promise<void>((resolve, reject) => {
      hear = (event) => {
        if (event.kind === "trouble") return reject(new Error(event.text));
        waiting.delete(event.input);
        if (waiting.size === 0) resolve();
      };
    });
    for (const { name, bytes } of scores) {
      names.add(name);
      writeFileSync(join(pair.inFolder, name), bytes);
    }
    await done;
    await folder.close();
    return scores.map(({ name }) => ({
      exported: bytesAt(join(pair.inFolder, name)) ?? new Uint8Array(0),
      guitarScore: bytesAt(join(pair.outFolder, name.replace(/\.\w+$/, "-guitar.musicxml"))),
      notes: notesFor(name, pair.outFolder),
    }));
  }

  return {
    roundTrip,
    leftovers: () => strayFiles(pair, names).filter((file) => file !== RECORD),
    async close() {
      await Promise.all(watched.map((folder) => folder.close()));
      pair.remove();
    },
  };
}

adapterContract("the watched folder with a folder for guitar scores", () => watchedFolder(false));
adapterContract("the watched folder with guitar scores beside the exports", () => watchedFolder(true));

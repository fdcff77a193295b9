import { appendFile, mkdir, readdir, readFile, stat } from "node:fs/promises";
import { dirname, join, relative, resolve, sep } from "node:path";
import { placeOf, type ScoreAsked } from "../../batch/batch-jobs.js";
import type { BatchWorld } from "../../batch/run-batch.js";
import { hasGuitarSuffix, isScoreName } from "../../files/file-names.js";
import { makeFolder, putFile, sweepLeftovers } from "../../files/put-file.js";
import { FILE_LIMITS } from "../../xml/file-limits.js";
import { FileTrouble } from "../outside.js";

const RECORD_NAME = /^\.batch-record.*\.jsonl$/;

/**
 * The lead sheets that are asked for. In a folder: scores in it and below, not those in the output folder, nor
 * guitar scores, nor what links lead to.
 *
 * @throws FileTrouble where one is not there
 */
export async function scoresIn(words: readonly string[], outFolder: string): Promise<readonly ScoreAsked[]> {
  const scores: ScoreAsked[] = [];
  for (const word of words) {
    const found = await stat(word).catch(trouble(word, "read"));
    if (!found.isDirectory()) scores.push({ input: word, place: placeOf(word) });
    else await look(word, "");
  }
  return scores;

  async function look(folder: string, place: string): Promise<void> {
    const entries = await readdir(folder, { withFileTypes: true }).catch(trouble(folder, "read"));
    for (const entry of entries) {
      const path = join(folder, entry.name);
      const here = place === "" ? entry.name : `${place}/${entry.name}`;
      if (entry.isDirectory()) {
        if (!entry.name.startsWith(".") && entry.name !== "__MACOSX" && resolve(path) !== resolve(outFolder))
          await look(path, here);
      } else if (entry.isFile() && isScoreName(entry.name) && !hasGuitarSuffix(entry.name))
        scores.push({ input: path, place: here });
    }
  }
}

/** The output folder made ready, and what earlier batches noted in it. */
export async function openOutput(outFolder: string): Promise<readonly string[]> {
  await makeFolder(outFolder).catch(trouble(outFolder, "written"));
  await sweepLeftovers(outFolder);
  const names = await readdir(outFolder).catch(trouble(outFolder, "read"));
  const records = names.filter((name) => RECORD_NAME.test(name)).toSorted();
  return Promise.all(
    records.map((name) =>
      readFile(join(outFolder, name), "utf8").catch(trouble(join(outFolder, name), "read")),
    ),
  );
}

/** The files of a batch, on this computer. */
export function batchFiles(outFolder: string, recordName: string): Omit<BatchWorld, "answer"> {
  const record = join(outFolder, recordName);
  /** Folders below the output folder that were looked through for what a killed batch left. */
  const swept = new Set<string>();
  return {
    async readInput(path) {
      const { size } = await stat(path).catch(trouble(path, "read"));
      if (size > FILE_LIMITS.plainBytes)
        throw new FileTrouble(path, "read", new Error(`it has ${size} bytes, more than any score`));
      return readFile(path).catch(trouble(path, "read"));
    },
    async readOutput(output) {
      const path = join(outFolder, output);
      // Every score is looked for before it is written, also one that is there already.
      if (!swept.has(dirname(path))) {
        swept.add(dirname(path));
        await sweepLeftovers(dirname(path));
      }
      return readFile(path).catch((error: NodeJS.ErrnoException) => {
        if (error.code === "ENOENT") return undefined;
        throw new FileTrouble(path, "replaced", error);
      });
    },
    async putOutput(output, bytes) {
      const path = join(outFolder, output);
      await mkdir(dirname(path), { recursive: true }).catch(trouble(path, "written"));
      await putFile(path, bytes).catch(trouble(path, "written"));
    },
    addToRecord: (line) => appendFile(record, line).catch(trouble(record, "written")),
    seenFromOutput: (input) => relative(resolve(outFolder), resolve(input)).split(sep).join("/"),
  };
}

const trouble =
  (path: string, doing: string) =>
  (error: unknown): never => {
    throw new FileTrouble(path, doing, error);
  };

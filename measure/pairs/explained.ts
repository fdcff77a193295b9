import { readFileSync } from "node:fs";
import { join } from "node:path";
import { arrangeScore, completeOptions, explanationLines, Findings, readScore, ScoreError } from "undervoice";
import { COSTS } from "#built/arranging/costs/cost-table.js";
import { scoreNames } from "../lead-sheets.js";

/**
 * A process of its own for a set of weights, since what is remembered belongs to one: given a folder, a step, the first
 * file and changed weights, writes what is said of each tune in each texture as JSON.
 */
const [folder = "", every = "1", from = "0", weights = ""] = process.argv.slice(2);

for (const change of weights.split(/,(?=[a-z])/).filter(Boolean)) {
  const [path = "", value = ""] = change.split("=");
  const names = path.split(".");
  const last = names.pop() ?? "";
  const place = names.reduce<Record<string, unknown> | undefined>(
    (table, name) => table?.[name] as Record<string, unknown> | undefined,
    COSTS as unknown as Record<string, unknown>,
  );
  if (place?.[last] === undefined) throw new Error(`there is no weight ${path}`);
  place[last] = JSON.parse(value) as unknown;
}

const said: Record<string, readonly string[]> = {};
const files = scoreNames(folder).filter((_, index) => index % Number(every) === Number(from));
for (const file of files) {
  const score = readScore(new Uint8Array(readFileSync(join(folder, file))), new Findings());
  for (const texture of ["fluent", "full"]) {
    try {
      const { report } = arrangeScore(score, completeOptions({ texture }), new Findings());
      said[`${file}, ${texture}`] = explanationLines(report);
    } catch (error) {
      if (!(error instanceof ScoreError)) throw error;
    }
  }
}
process.stdout.write(JSON.stringify(said));

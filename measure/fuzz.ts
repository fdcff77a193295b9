import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { completeOptions, type Finding, readScoreText, textOfFinding } from "undervoice";
import { openWorkerPool } from "#built/work/workers/worker-pool.js";
import { mutated, pick, randomFrom } from "./fuzz/mutations.js";

/**
 * Spoils scores and has them arranged: whatever comes in, a score comes out that our own check finds nothing wrong
 * with and that comes back as it was, or one error that says why not. What does otherwise is kept and printed.
 */
const { values } = parseArgs({
  options: {
    minutes: { type: "string", default: "1" },
    seed: { type: "string", default: String(Date.now() % 1_000_000) },
    keep: { type: "string", default: join(tmpdir(), "undervoice-fuzz") },
  },
});
const FOLDERS = [
  "sample-scores",
  "tests/faults",
  "../shared/corpus/lead-sheets",
  "../shared/corpus/notation-suite",
];
/** Larger scores take longer by right. */
const ORDINARY_SIGNS = 300_000;
/** Wall time on a machine that others use too; the limit of a service is three times as long. */
const WORK_MS = 20_000;

const OPTIONS = {
  texture: ["fluent", "full", "lean"],
  key: ["keep", "Eb", "F#m"],
  lead: ["keep", "drop"],
  staves: ["parts", "joined", "tab"],
  notes: ["auto", "3", "4"],
  rests: ["silent", "struck"],
  capo: [0, 3, 11],
  diagrams: [false, true],
} as const;

const random = randomFrom(Number(values.seed));
const texts = FOLDERS.flatMap(scoresIn);
const pool = openWorkerPool({ workers: 1, workMs: WORK_MS, workerMemoryMb: 1024 });
const counts = { arranged: 0, refused: 0, faults: 0 };
const until = performance.now() + Number(values.minutes) * 60_000;
mkdirSync(values.keep, { recursive: true });
console.log(`${texts.length} scores, seed ${values.seed}`);

while (performance.now() < until) {
  const xml = mutated(pick(texts, random), random);
  const given = Object.fromEntries(
    Object.entries(OPTIONS).flatMap(([name, all]) =>
      random(3) === 0 ? [[name, pick<unknown>(all, random)]] : [],
    ),
  );
  const fault = await faultOf(xml, given);
  if (fault === undefined) continue;
  counts.faults += 1;
  const path = join(values.keep, `${values.seed}-${counts.faults}.musicxml`);
  writeFileSync(path, xml);
  console.log(`${path} ${JSON.stringify(given)}\n  ${fault}`);
}
pool.close();
console.log(`${counts.arranged} arranged, ${counts.refused} refused, ${counts.faults} faults`);
process.exitCode = counts.faults === 0 ? 0 : 1;

/** What is wrong with what came of a spoilt score; undefined where nothing is. */
async function faultOf(xml: string, given: object): Promise<string | undefined> {
  try {
    const options = completeOptions(given);
    const score = new TextEncoder().encode(xml);
    const first = await pool.answer({ kind: "scoreOnly", score, options, isCompressed: false });
    if (first.kind === "refused") {
      counts.refused += 1;
      const last = first.findings.at(-1);
      return last?.severity === "error" && !textOfFinding(last).includes("\n") ? undefined : "no one error";
    }
    counts.arranged += 1;
    const checked = await pool.answer({ kind: "check", score: first.score, options });
    if (checked.kind === "refused") return `the check refuses it: ${said(checked.findings)}`;
    const errors = checked.findings.filter(({ severity }) => severity === "error");
    if (errors.length > 0) return `the check finds it wrong: ${said(errors)}`;
    const again = await pool.answer({
      kind: "scoreOnly",
      score: first.score,
      options: completeOptions({}),
      isCompressed: false,
    });
    if (again.kind === "refused") return `it is refused when it comes back: ${said(again.findings)}`;
    if (Buffer.compare(again.score, first.score) !== 0)
      return `it changes when it comes back: ${said(again.findings)}`;
    return undefined;
  } catch (error) {
    return error instanceof Error
      ? (error.stack ?? error.message).split("\n").slice(0, 3).join(" | ")
      : String(error);
  }
}

function said(findings: readonly Finding[]): string {
  return findings.map(textOfFinding).slice(-2).join(" / ");
}

function scoresIn(folder: string): readonly string[] {
  let names: readonly string[];
  try {
    names = readdirSync(folder).filter((name) => /\.(musicxml|xml|mxl)$/.test(name));
  } catch {
    return [];
  }
  return names.flatMap((name) => {
    try {
      const { text } = readScoreText(readFileSync(join(folder, name)));
      return text.length > ORDINARY_SIGNS ? [] : [text];
    } catch {
      return [];
    }
  });
}

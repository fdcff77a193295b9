import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** How long the program takes from its start to its end, against Node that does nothing. */
export interface ColdStart {
  /** What is asked of it. */
  readonly figure: string;
  /** Of elapsed time: the middle one of the ratios of two runs that follow each other. */
  readonly ratio: number;
  readonly target: number;
}

const CHECKOUT = fileURLToPath(new URL("../../", import.meta.url));
const MAIN = join(CHECKOUT, "dist/cli/main.js");
const SAMPLE = join(CHECKOUT, "sample-scores/slow-bell.musicxml");

/** Each pair is a run of the program and one of Node alone, so that a busy moment meets both. */
export function coldStarts(pairs = 15): readonly ColdStart[] {
  const folder = mkdtempSync(join(tmpdir(), "undervoice-"));
  let runs = 0;
  // A score that is there already would be read for what its owner changed in it.
  const arrange = () => {
    runs += 1;
    return [MAIN, "arrange", SAMPLE, "--output", join(folder, `slow-bell-${runs}.musicxml`)];
  };
  try {
    return [
      { figure: "cold help / node -e 0", ratio: middleRatio(() => [MAIN, "help"], pairs), target: 2 },
      { figure: "cold arrange of a sample / node -e 0", ratio: middleRatio(arrange, pairs), target: 5 },
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function middleRatio(words: () => readonly string[], pairs: number): number {
  // The first run of each finds nothing in the system's memory.
  elapsedMs(words());
  elapsedMs(["-e", "0"]);
  const ratios = Array.from({ length: pairs }, () => elapsedMs(words()) / elapsedMs(["-e", "0"]));
  return ratios.toSorted((one, other) => one - other)[Math.floor(pairs / 2)] ?? Number.NaN;
}

function elapsedMs(words: readonly string[]): number {
  const start = performance.now();
  const { status, stderr } = spawnSync(process.execPath, words, { encoding: "utf8" });
  const elapsed = performance.now() - start;
  if (status !== 0) throw new Error(`node ${words.join(" ")} ended with ${status}: ${stderr}`);
  return elapsed;
}

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { arrangeBytes, completeOptions, Findings, parseXml, readScoreText, ScoreError } from "undervoice";
import { scoreFile } from "#built/xml/container.js";
import { coldStarts } from "./cold-start.js";
import { LEAD_SHEETS, scoreNames } from "./lead-sheets.js";
import { longTuneFigures, oneTuneFigures } from "./one-tune.js";

/**
 * How long a folder of lead sheets takes from bytes to bytes, against reading and writing the same files
 * without arranging them, by turns in one process; then what one tune takes, long tunes, and a cold start:
 *
 *     npm run bench [-- FOLDER]
 */
const folder = process.argv[2] ?? LEAD_SHEETS;

const files = scoreNames(folder).map((name) => ({
  name,
  bytes: new Uint8Array(readFileSync(join(folder, name))),
}));

const options = completeOptions({});
const refused: string[] = [];

// The first files pay for the compiler's warming up; both rows start warm.
for (const { name, bytes } of files.slice(0, 10)) {
  readAndWrite(bytes);
  arrange(name, bytes);
}
refused.length = 0;

// By turns, so that a busy moment of the machine meets both.
let bareMs = 0;
let arrangeMs = 0;
for (const { name, bytes } of files) {
  bareMs += timed(() => readAndWrite(bytes));
  arrangeMs += timed(() => arrange(name, bytes));
}

console.log(`files                    ${files.length} (${refused.length} refused)`);
console.log(`end to end               ${seconds(arrangeMs)}`);
console.log(`reading and writing only ${seconds(bareMs)}`);
console.log(`ratio                    ${(arrangeMs / bareMs).toFixed(2)}`);
console.log(
  `a lead sheet             ${(arrangeMs / files.length).toFixed(1)} ms (bare ${(bareMs / files.length).toFixed(1)})`,
);
console.log(`files a second           ${(files.length / (arrangeMs / 1000)).toFixed(1)}`);
// resourceUsage counts in kibibytes.
console.log(`peak memory              ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MiB`);
for (const { figure, value, unit, target } of [...oneTuneFigures(), ...longTuneFigures()])
  console.log(`${figure.padEnd(37)}${value.toFixed(2)} ${unit} (target ${target})`);
for (const { figure, ratio, target } of coldStarts())
  console.log(`${figure.padEnd(37)}${ratio.toFixed(2)} (target ${target})`);
for (const line of refused) console.log(`refused: ${line}`);

function readAndWrite(bytes: Uint8Array): void {
  try {
    const { text, isCompressed } = readScoreText(bytes);
    scoreFile(parseXml(text), isCompressed);
  } catch (error) {
    if (!(error instanceof ScoreError)) throw error;
  }
}

function arrange(name: string, bytes: Uint8Array): void {
  try {
    arrangeBytes(bytes, options, new Findings(), { isCompressed: name.endsWith(".mxl") });
  } catch (error) {
    if (!(error instanceof ScoreError)) throw error;
    refused.push(`${name}: ${error.message}`);
  }
}

function timed(work: () => void): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

function seconds(milliseconds: number): string {
  return `${(milliseconds / 1000).toFixed(2)} s`;
}

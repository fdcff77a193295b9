import { readFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { arrangeScore, completeOptions, Findings, readScore, ScoreError } from "undervoice";
import { measurePlace } from "#built/song/measure-place.js";
import { transposedTune, UNTRANSPOSED } from "#built/song/transposition.js";
import { LEAD_SHEETS, scoreNames } from "./lead-sheets.js";
import { printChordsFromVoices } from "./quality/chords-from-voices.js";
import { printEnsembles } from "./quality/ensembles.js";
import { HARMONY } from "./quality/harmony.js";
import { IDIOM } from "./quality/idiom.js";
import { EASE, MOVES } from "./quality/moves.js";
import type { Section } from "./quality/section.js";
import { SHAPES } from "./quality/shapes.js";
import { newTally, type Tally } from "./quality/tally.js";

/**
 * What the arrangements of a folder of lead sheets are worth, counted over every moment of each texture, and
 * what is kept of scores of several voices:
 *
 *     npm run quality [-- FOLDER] [--every N] [--texture NAME ...] [--list] [--ensembles]
 *
 * `--every` takes each Nth file for a quick look; `--list` names the places behind each exception.
 * `--ensembles` stops after what is counted over scores of several voices.
 */
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    every: { type: "string", default: "1" },
    texture: { type: "string", multiple: true, default: ["full", "fluent", "lean"] },
    list: { type: "boolean", default: false },
    ensembles: { type: "boolean", default: false },
  },
});
const SECTIONS: readonly Section[] = [HARMONY, SHAPES, IDIOM, MOVES];

const folder = positionals[0] ?? LEAD_SHEETS;
const every = Math.max(1, Number(values.every) || 1);
const files = scoreNames(folder).filter((_, index) => index % every === 0);

printChordsFromVoices(undefined, values.list);
printEnsembles(undefined, Math.max(1, Number(values.every) || 1), values.list);
if (values.ensembles) process.exit();

const tallies = new Map<string, Tally>();
for (const texture of values.texture) {
  const started = performance.now();
  const tally = newTally();
  for (const file of files) judgeFile(file, texture, tally);
  tallies.set(texture, tally);
  console.log(`\n${texture} (${((performance.now() - started) / 1000).toFixed(0)} s)`);
  for (const section of SECTIONS) for (const line of section.lines(tally)) console.log(`  ${line}`);
  for (const what of tally.names()) {
    console.log(`    ${what.padEnd(62)} ${Number(tally.of(what).toFixed(1))}`);
    if (values.list) for (const place of tally.placesOf(what)) console.log(`        ${place}`);
  }
}
const [full, fluent] = [tallies.get("full"), tallies.get("fluent")];
if (full !== undefined && fluent !== undefined) {
  console.log("\nfluent against full");
  for (const { what, of, goal } of EASE)
    console.log(
      `  ${what}: ${(of(fluent) / of(full)).toFixed(2)}${goal === undefined ? "" : ` (goal: at most ${goal})`}`,
    );
}

function judgeFile(file: string, texture: string, tally: Tally): void {
  const options = completeOptions({ texture, alternatives: 0 });
  try {
    const findings = new Findings();
    const document = readScore(new Uint8Array(readFileSync(join(folder, file))), findings);
    const { sheet, arrangement } = arrangeScore(document, options, findings);
    const tune = transposedTune(sheet.tune, arrangement.transposition ?? UNTRANSPOSED);
    const placeOf = (tick: number) => {
      const place = measurePlace(tune, tick);
      return `${file} measure ${place?.measure} beat ${place?.beat}`;
    };
    for (const section of SECTIONS)
      section.judge({ file, tune, arrangement, shift: options.shift, placeOf }, tally);
    tally.count("files arranged");
  } catch (error) {
    if (!(error instanceof ScoreError)) throw error;
    tally.count(`refused: ${error.finding.rule}`, file);
  }
}

import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { arrangeScore, completeOptions, Findings, readScore, ScoreError } from "undervoice";
import { movesOf } from "#built/arrangement/hand-moves.js";
import { keptOfEnsemble } from "#built/arrangement/kept-of-ensemble.js";
import { measurePlace } from "#built/song/measure-place.js";
import { transposedTune } from "#built/song/transposition.js";
import { scoreNames } from "../lead-sheets.js";
import { CHORALES } from "./chords-from-voices.js";

/**
 * What the texture of the voices keeps of four-part scores: in the key they came in, or, where that does not
 * come out, in the best one. `every` takes each Nth file.
 */
export function printEnsembles(folder = CHORALES, every = 1, isListed = false): void {
  if (!existsSync(folder)) {
    console.log("\nensembles: no scores at hand");
    return;
  }
  const files = scoreNames(folder).filter((_, index) => index % every === 0);
  const sums = {
    beats: 0,
    bass: 0,
    tones: 0,
    foreign: 0,
    crossings: 0,
    beyond: 0,
    moves: 0,
    inBest: 0,
    refused: 0,
  };
  const started = performance.now();
  for (const file of files) {
    const document = readScore(new Uint8Array(readFileSync(join(folder, file))), new Findings());
    const inKey = (key: string) => {
      const options = completeOptions({ texture: "voices", alternatives: 0, key });
      const { sheet, arrangement } = arrangeScore(document, options, new Findings());
      const tune = transposedTune(sheet.tune, arrangement.transposition);
      const moves = movesOf(tune, arrangement, undefined);
      const beyond = moves.filter(
        ({ moveMm, secondsAvailable }) => moveMm > options.shift * secondsAvailable,
      );
      return { tune, kept: keptOfEnsemble(tune, arrangement), beyond, moves };
    };
    try {
      let arranged = inKey("keep");
      if (arranged.beyond.length > 0) {
        arranged = inKey("best");
        sums.inBest += 1;
      }
      const { tune, kept, beyond, moves } = arranged;
      sums.beats += kept.beats;
      sums.bass += kept.beats - kept.withoutBass.length;
      sums.tones += kept.beats - kept.withoutTone.length;
      sums.foreign += kept.foreign.length;
      sums.crossings += kept.crossings.length;
      sums.beyond += beyond.length;
      sums.moves += moves.length;
      if (isListed) {
        const list = (what: string, ticks: readonly number[]) => {
          for (const tick of ticks) {
            const place = measurePlace(tune, tick);
            console.log(`      ${file} measure ${place?.measure} beat ${place?.beat}: ${what}`);
          }
        };
        list("another bass", kept.withoutBass);
        list("a tone lacks", kept.withoutTone);
        list("a note nobody sings", kept.foreign);
        list("voices cross", kept.crossings);
      }
    } catch (error) {
      if (!(error instanceof ScoreError)) throw error;
      sums.refused += 1;
      console.log(`      ${file}: ${error.finding.message}`);
    }
  }
  const share = (count: number) => `${((100 * count) / Math.max(1, sums.beats)).toFixed(1)} %`;
  console.log(
    `\nensembles in the texture of the voices (${((performance.now() - started) / 1000).toFixed(0)} s): ` +
      `${files.length - sums.refused} of ${files.length} scores, ${sums.inBest} of them in another key`,
  );
  console.log(`  beats with the ensemble's bass lowest: ${share(sums.bass)} of ${sums.beats}`);
  console.log(`  beats with every pitch class that is sung: ${share(sums.tones)}`);
  console.log(`  notes that nobody sings: ${sums.foreign}; voices that cross: ${sums.crossings}`);
  console.log(`  moves beyond the limit: ${sums.beyond} of ${sums.moves}`);
}

import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Findings, readScore } from "undervoice";
import { chordOf } from "#built/harmony/chord-tones.js";
import { readLeadSheet } from "#built/musicxml/lead-sheet/read-lead-sheet.js";
import { parsePitchName, pitchClass } from "#built/song/pitch.js";
import type { Tune } from "#built/song/tune.js";

/** Where the chorales lie, with a published analysis of each in chords.json. */
export const CHORALES = fileURLToPath(new URL("../../../../shared/corpus/chorales/", import.meta.url));

/** One chord of the analysis: measure as printed, quarters from its start, figure, key, root, bass, pitch classes. */
type AnalysedChord = readonly [
  measure: number,
  offset: number,
  figure: string,
  key: string,
  root: string,
  bass: string,
  pitchClasses: readonly number[],
];

interface Analysis {
  readonly file: string;
  readonly chords: readonly AnalysedChord[];
}

interface Counts {
  onsets: number;
  root: number;
  tones: number;
  same: number;
  bass: number;
}

/**
 * How often chords worked out from the voices alone agree with a published analysis, at every onset it names:
 * Roman-numeral analyses by A. Jones, D. Tymoczko and H. Robb as collected in *When in Rome* (CC BY-SA 4.0),
 * of scores from the music21 corpus. The half that the weights were calibrated on is told apart by a hash of
 * the file's name.
 */
export function printChordsFromVoices(folder = CHORALES, isListed = false): void {
  const table = join(folder, "chords.json");
  if (!existsSync(table)) {
    console.log("\nchords from voices: no analyses at hand");
    return;
  }
  const analyses = JSON.parse(readFileSync(table, "utf8")) as readonly Analysis[];
  const halves: Record<"calibrated on" | "tested on", Counts> = {
    "calibrated on": { onsets: 0, root: 0, tones: 0, same: 0, bass: 0 },
    "tested on": { onsets: 0, root: 0, tones: 0, same: 0, bass: 0 },
  };
  for (const { file, chords } of analyses) {
    const findings = new Findings();
    const document = readScore(new Uint8Array(readFileSync(join(folder, file))), findings);
    const { tune } = readLeadSheet(document.root, { melody: "auto", chords: "voices" }, findings);
    const counts = halves[isCalibration(file) ? "calibrated on" : "tested on"];
    for (const chord of chords) {
      const differs = compare(tune, chord, counts);
      if (isListed && differs !== undefined) console.log(`      ${file} ${differs}`);
    }
  }
  console.log("\nchords from voices, at every onset of a published analysis");
  for (const [half, counts] of Object.entries(halves)) {
    const share = (count: number) => `${((100 * count) / Math.max(1, counts.onsets)).toFixed(1)} %`;
    console.log(
      `  ${half.padEnd(14)} ${counts.onsets} onsets: same root ${share(counts.root)}, ` +
        `same tones, or less a fifth or seventh ${share(counts.tones)} (same tones ${share(counts.same)}), ` +
        `same bass ${share(counts.bass)}`,
    );
  }
}

/** The half of the files that weights are calibrated on. */
export const isCalibration = (file: string): boolean =>
  Number.parseInt(createHash("sha256").update(file).digest("hex").slice(0, 8), 16) % 2 === 0;

/** Counts one onset; says what differs, if anything does. */
function compare(
  tune: Tune,
  [label, offset, figure, , root, bass, classes]: AnalysedChord,
  counts: Counts,
): string | undefined {
  counts.onsets += 1;
  const measure = tune.measures.find((one) => one.label === String(label));
  const at = (measure?.start ?? 0) + Math.round(offset * tune.ticksPerQuarter);
  const symbol = tune.chords.findLast(({ start }) => start <= at)?.symbol;
  if (measure === undefined || symbol === undefined) return `${label}:${offset} ${figure} no chord`;
  const ours = chordOf(symbol).tones.map((tone) => tone.pitchClass);
  const rootClass = classOf(root);
  const extra = ours.filter((one) => !classes.includes(one));
  const lacking = classes.filter((one) => !ours.includes(one)).map((one) => (one - rootClass + 12) % 12);
  const isRoot = pitchClass(symbol.root) === rootClass;
  const isBass = pitchClass(symbol.bass ?? symbol.root) === classOf(bass);
  const isLess = extra.length === 0 && lacking.every((semitones) => semitones >= 6);
  counts.root += Number(isRoot);
  counts.bass += Number(isBass);
  counts.tones += Number(isLess);
  counts.same += Number(extra.length === 0 && lacking.length === 0);
  return isRoot && isBass && isLess
    ? undefined
    : `measure ${label} offset ${offset}: ${figure} over ${bass}, read as ${symbol.root.letter}${symbol.root.alter} ${symbol.kind}`;
}

/** "B-" is B flat in these tables. */
function classOf(name: string): number {
  const parsed = parsePitchName(name.replaceAll("-", "b"));
  if (parsed === undefined) throw new Error(`no note name: ${name}`);
  return pitchClass(parsed);
}

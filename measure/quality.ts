import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { arrangeScore, completeOptions, Findings, readScore, ScoreError } from "undervoice";
import type { ArrangedEvent, Arrangement } from "#built/arrangement/arrangement.js";
import { movesOf } from "#built/arrangement/hand-moves.js";
import { NOT_MOVED, transposedTune } from "#built/arranging/transposed-tune.js";
import { type Chord, chordOf } from "#built/harmony/chord-tones.js";
import { measurePlace } from "#built/song/measure-place.js";
import type { Tune } from "#built/song/tune.js";

/**
 * What the arrangements of a folder of lead sheets are worth, counted over every moment of each texture:
 *
 *     npm run quality [-- FOLDER] [--list]
 *
 * `--list` names the places behind each exception.
 */
const args = process.argv.slice(2);
const isListed = args.includes("--list");
const folder =
  args.find((arg) => !arg.startsWith("--")) ??
  fileURLToPath(new URL("../../../shared/corpus/lead-sheets/", import.meta.url));

const files = readdirSync(folder)
  .filter((name) => /\.(musicxml|xml|mxl)$/.test(name))
  .toSorted();

for (const texture of ["full", "fluent", "lean"] as const) {
  const counts = new Map<string, number>();
  const places = new Map<string, string[]>();
  const count = (what: string, place?: string) => {
    counts.set(what, (counts.get(what) ?? 0) + 1);
    if (place !== undefined) places.set(what, [...(places.get(what) ?? []), place]);
  };
  const started = performance.now();
  for (const name of files) {
    const options = completeOptions({ texture, alternatives: 0 });
    try {
      const findings = new Findings();
      const document = readScore(new Uint8Array(readFileSync(join(folder, name))), findings);
      const { sheet, arrangement } = arrangeScore(document, options, findings);
      judge(name, sheet.tune, arrangement, options.shift, count);
      count("files arranged");
    } catch (error) {
      if (!(error instanceof ScoreError)) throw error;
      count(`refused: ${error.finding.rule}`, name);
    }
  }
  console.log(`\n${texture} (${((performance.now() - started) / 1000).toFixed(0)} s)`);
  const share = (part: string, whole: string) =>
    `${(100 * ((counts.get(part) ?? 0) / Math.max(1, counts.get(whole) ?? 0))).toFixed(2)} %`;
  console.log(
    `  both guide tones in a struck grip under a seventh chord: ${share("guides: both", "guides: due")}`,
  );
  console.log(`  ... where the melody leaves room for them: ${share("guides: both", "guides: possible")}`);
  console.log(
    `  melody notes over harmony, from the first chord on: ${share("melody: over harmony", "melody: under chords")}`,
  );
  console.log(
    `  chord changes on a melody note that carry their chord: ${share("change: carried", "change: on a note")}`,
  );
  console.log(
    `  the same note over the same chord in its usual shape: ${share("same note and chord: its usual shape", "same note and chord: met again")}`,
  );
  for (const [what, times] of [...counts].toSorted(([a], [b]) => a.localeCompare(b))) {
    console.log(`  ${what.padEnd(64)} ${times}`);
    if (isListed) for (const place of places.get(what) ?? []) console.log(`      ${place}`);
  }
}

function judge(
  file: string,
  written: Tune,
  arrangement: Arrangement,
  shift: number,
  count: (what: string, place?: string) => void,
): void {
  const { transposition = NOT_MOVED, events, supports } = arrangement;
  const tune = transposedTune(written, transposition);
  const placeOf = (event: ArrangedEvent) => {
    const place = measurePlace(tune, event.onset);
    return `${file} measure ${place?.measure} beat ${place?.beat}`;
  };
  let chordBefore: string | undefined;
  const shapes = new Map<string, Map<string, number>>();
  for (const event of events) {
    const note = event.melodyNote === undefined ? undefined : tune.melody[event.melodyNote];
    const symbol = event.chord === undefined ? undefined : tune.chords[event.chord]?.symbol;
    const chord = symbol === undefined ? undefined : chordOf(symbol);
    const isNoteOnset = note !== undefined && note.onset === event.onset;
    const isChange = JSON.stringify(symbol) !== chordBefore;
    chordBefore = JSON.stringify(symbol);
    const under = event.supports.flatMap((index) => supports[index]?.midi ?? []);
    if (chord === undefined) continue;
    if (isNoteOnset) {
      count("melody: under chords");
      if (under.length > 0) count("melody: over harmony");
      else {
        count("melody: single under a chord");
        count(`melody: single under a chord, ${event.whySingle}`, placeOf(event));
      }
      if (isChange) {
        count("change: on a note");
        if (event.attack === "struck") count("change: carried");
        else count("change: not carried", placeOf(event));
      }
    }
    if (event.attack === "single" || event.attack === "held") continue;
    judgeGrip(chord, event, note?.midi, under, placeOf(event), count);
    const situation = `${note?.midi} ${JSON.stringify(symbol)}`;
    const shape = event.supports
      .map((index) => `${supports[index]?.string}:${supports[index]?.fret}`)
      .join(" ");
    const known = shapes.get(situation) ?? new Map<string, number>();
    shapes.set(situation, known.set(shape, (known.get(shape) ?? 0) + 1));
  }
  for (const known of shapes.values()) {
    const times = [...known.values()];
    if (times.reduce((sum, one) => sum + one, 0) < 2) continue;
    for (const one of times) for (let n = 0; n < one; n += 1) count("same note and chord: met again");
    for (let n = 0; n < Math.max(...times); n += 1) count("same note and chord: its usual shape");
  }
  for (const move of movesOf(tune, arrangement, undefined)) {
    count("moves");
    const from = events[move.from];
    if (move.moveMm > shift * move.secondsAvailable && from !== undefined) {
      count("moves beyond the limit", placeOf(from));
    }
  }
}

function judgeGrip(
  chord: Chord,
  event: ArrangedEvent,
  melodyMidi: number | undefined,
  under: readonly number[],
  place: string,
  count: (what: string, place?: string) => void,
): void {
  const sounding = [...under, ...(melodyMidi === undefined ? [] : [melodyMidi])].map((midi) => midi % 12);
  const guides = chord.tones.filter((tone) => tone.role === "guide");
  if (chord.isSeventhOrLarger && guides.length >= 2) {
    count("guides: due");
    const missing = guides.filter((tone) => !sounding.includes(tone.pitchClass));
    const reasons = event.leftOut.filter((left) => missing.some((tone) => tone.label === left.degree));
    if (missing.length === 0) count("guides: both");
    else
      for (const { degree, reason } of reasons)
        count(`guides: without ${degree}, ${reason}`, `${place} melody ${event.melodyDegree}`);
    if (!reasons.some(({ reason }) => reason !== "out-of-reach")) count("guides: possible");
  }
  if (melodyMidi !== undefined) {
    for (const midi of under) {
      if ([1, 13].includes(melodyMidi - midi))
        count("support a semitone or minor ninth under the melody", place);
    }
  }
  const needed = event.leftOut.filter(({ reason }) => reason === "least-needed" || reason === "out-of-reach");
  if (new Set(sounding).size < sounding.length && needed.length > 0)
    count("doubled while a tone is missing", place);
  count("grips struck");
}

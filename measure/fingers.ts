import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { type Agreement, agreementWith } from "./finger-agreement.js";
import {
  chordsDbShapes,
  type FingeredChord,
  type Half,
  halfOf,
  publishedChords,
  shapeOf,
} from "./fingered-chord.js";

/**
 * How well the left hand's choice agrees with what people wrote down, for each half of each collection:
 *
 *     npm run fingers [-- [--misses] FILE...]
 *
 * FILE is a collection in the layout of `chords-public.json`. Without one, the shared collection beside
 * the checkout and the open one of chords-db are measured. --misses lists what is not the first choice.
 */
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { misses: { type: "boolean", default: false } },
});
const SHARED_CHORDS = fileURLToPath(
  new URL("../../../shared/standards/fingerings/chords-public.json", import.meta.url),
);

const collections: { readonly name: string; readonly chords: readonly FingeredChord[] }[] = positionals.map(
  (path) => ({ name: path, chords: publishedChords(path) }),
);
if (positionals.length === 0) {
  if (existsSync(SHARED_CHORDS))
    collections.push({ name: "printed", chords: publishedChords(SHARED_CHORDS) });
  else console.log("The shared collection is not beside this checkout: chords-db alone is measured.");
  collections.push({ name: "chords-db", chords: chordsDbShapes() });
}

console.log("a1  written fingers are the first choice at the written strings and frets");
console.log("a3  they are among the first three");
console.log("top what a1 could be at most for a rule that sees strings and relative frets alone");
console.log("b3  written strings and frets are among the first three, given the pitches alone");
console.log("by places: each printed chord counted as often as it is printed; the other rows count it once");
const HALVES = ["calibration", "test"] as const;
const all: Readonly<Record<Half, Agreement[]>> = { calibration: [], test: [] };
for (const { name, chords } of collections) {
  for (const half of HALVES) {
    const agreements = chords.filter((chord) => halfOf(chord) === half).map((chord) => agreementWith(chord));
    all[half].push(...agreements);
    printFigures(`${name}, ${half} half`, agreements);
    if (values.misses) for (const agreement of agreements) printMiss(agreement);
  }
}
if (collections.length > 1)
  for (const half of HALVES) printFigures(`all collections together, ${half} half`, all[half]);

function printFigures(title: string, agreements: readonly Agreement[]): void {
  console.log(`\n${title}: ${agreements.length} chords`);
  if (agreements.length === 0) return;
  const rows: readonly [string, (agreement: Agreement) => boolean][] = [
    ["a1", ({ fingersRank = 99 }) => fingersRank === 1],
    ["a3", ({ fingersRank = 99 }) => fingersRank <= 3],
    ["b3", ({ placementRank = 99 }) => placementRank <= 3],
  ];
  const once = (): number => 1;
  for (const [name, isMet] of rows) console.log(`  ${name}  ${percent(share(agreements, isMet, once))}`);
  console.log(`  top ${percent(mostPossible(agreements))}`);
  const places = ({ chord }: Agreement): number => chord.count;
  if (agreements.some((agreement) => places(agreement) > 1)) {
    const byPlaces = rows.map(([name, isMet]) => `${name} ${percent(share(agreements, isMet, places))}`);
    console.log(`  by places: ${byPlaces.join(", ")}`);
  }
  console.log(`  held to be impossible: ${agreements.filter((one) => one.fingersRank === undefined).length}`);
}

/** Share of the agreements that meet a condition, each counted with its weight. */
function share(
  agreements: readonly Agreement[],
  isMet: (agreement: Agreement) => boolean,
  weight: (agreement: Agreement) => number,
): number {
  let met = 0;
  let sum = 0;
  for (const agreement of agreements) {
    sum += weight(agreement);
    if (isMet(agreement)) met += weight(agreement);
  }
  return met / sum;
}

function percent(part: number): string {
  return `${(100 * part).toFixed(1)} %`;
}

/** Share of chords whose fingers are the most frequent ones of their shape: people differ, and so does one from day to day. */
function mostPossible(agreements: readonly Agreement[]): number {
  const byShape = new Map<string, Map<string, number>>();
  for (const { chord } of agreements) {
    const counts = byShape.get(shapeOf(chord)) ?? new Map<string, number>();
    const fingers = chord.fingers.join("");
    counts.set(fingers, (counts.get(fingers) ?? 0) + 1);
    byShape.set(shapeOf(chord), counts);
  }
  const most = [...byShape.values()].map((counts) => Math.max(...counts.values()));
  return most.reduce((sum, count) => sum + count, 0) / agreements.length;
}

function printMiss({ chord, fingersRank, choices }: Agreement): void {
  if (fingersRank === 1) return;
  const written = chord.strings.map((note, index) => `${note.string}/${note.fret}:${chord.fingers[index]}`);
  const rank = fingersRank === undefined ? "impossible" : `rank ${fingersRank}`;
  console.log(
    `    ${written.join(" ").padEnd(42)} ${rank.padEnd(11)} ${choices.map((one) => one.join("")).join(" ")}`,
  );
}

import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { type Agreement, agreementWith } from "./finger-agreement.js";
import { chordsDbShapes, type FingeredChord, halfOf, publishedChords, shapeOf } from "./fingered-chord.js";

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
for (const { name, chords } of collections) {
  for (const half of ["calibration", "test"] as const) {
    const agreements = chords.filter((chord) => halfOf(chord) === half).map((chord) => agreementWith(chord));
    console.log(`\n${name}, ${half} half: ${agreements.length} chords`);
    if (agreements.length === 0) continue;
    const share = (isMet: (agreement: Agreement) => boolean): string =>
      `${((100 * agreements.filter(isMet).length) / agreements.length).toFixed(1)} %`;
    console.log(`  a1  ${share(({ fingersRank = 99 }) => fingersRank === 1)}`);
    console.log(`  a3  ${share(({ fingersRank = 99 }) => fingersRank <= 3)}`);
    console.log(`  top ${(100 * mostPossible(agreements)).toFixed(1)} %`);
    console.log(`  b3  ${share(({ placementRank = 99 }) => placementRank <= 3)}`);
    console.log(
      `  held to be impossible: ${agreements.filter((one) => one.fingersRank === undefined).length}`,
    );
    if (values.misses) for (const agreement of agreements) printMiss(agreement);
  }
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

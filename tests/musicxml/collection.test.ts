import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { expect, test } from "vitest";
import { isJudgeHere, readByJudge } from "../support/outside-judge.js";
import { chordTable, melodyTable, readBytes } from "../support/reading.js";
import { SHARED } from "../support/shared.js";

const FOLDER = join(SHARED, "corpus", "lead-sheets");

/** Where we read otherwise than the judge, and why. */
const READ_OTHERWISE: Readonly<Record<string, string>> = {
  "e1363c7309.mxl melody":
    "two bars of slash notation hold placeholder pitches, which the judge takes for tune",
  "e1363c7309.mxl chords":
    "a chord symbol at the end of bar 41 falls on one of bar 42's own; the judge lists the one that comes first in the file",
};

type Row = readonly unknown[];

const rounded = (rows: readonly Row[]): readonly Row[] =>
  rows.map((row) => row.map((value) => (typeof value === "number" ? Math.round(value * 1e6) / 1e6 : value)));

/** The judge lists every chord symbol; of several at one time the first is harmonised. */
const firstAtEachTime = (rows: readonly Row[]): readonly Row[] =>
  rows.filter(([measure, beat], index) => rows[index - 1]?.[0] !== measure || rows[index - 1]?.[1] !== beat);

/** Where the judge cannot say what a kind means, only the time counts. */
const agrees = (ours: Row | undefined, judged: Row | undefined): boolean =>
  judged?.[2] === null
    ? ours?.[0] === judged[0] && ours?.[1] === judged[1]
    : JSON.stringify(ours) === JSON.stringify(judged);

/** The first pair of rows that differ; undefined where all agree. */
const firstDifference = (ours: readonly Row[], judged: readonly Row[]): string | undefined => {
  for (let index = 0; index < Math.max(ours.length, judged.length); index += 1)
    if (!agrees(ours[index], judged[index]))
      return `row ${index}: ${JSON.stringify(ours[index])} for ${JSON.stringify(judged[index])}`;
  return undefined;
};

test.skipIf(!isJudgeHere)(
  "every lead sheet of the collection is read as the outside judge reads it",
  () => {
    const differences: Record<string, string> = {};
    let melodyNotes = 0;
    for (const judged of readByJudge(readdirSync(FOLDER).map((name) => join(FOLDER, name)))) {
      expect(judged.error, judged.file).toBeUndefined();
      const { tune } = readBytes(readFileSync(judged.file));
      const melody = firstDifference(rounded(melodyTable(tune)), rounded(judged.melody));
      const chords = firstDifference(rounded(chordTable(tune)), firstAtEachTime(rounded(judged.chords)));
      if (melody !== undefined) differences[`${basename(judged.file)} melody`] = melody;
      if (chords !== undefined) differences[`${basename(judged.file)} chords`] = chords;
      melodyNotes += tune.melody.length;
    }
    expect(Object.keys(differences).sort(), JSON.stringify(differences)).toEqual(
      Object.keys(READ_OTHERWISE).sort(),
    );
    expect(melodyNotes).toBeGreaterThan(10_000);
  },
  180_000,
);

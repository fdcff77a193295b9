import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { expect, test } from "vitest";
import type { Place } from "../../src/diagnostics.js";
import { quartersPerBeat } from "../../src/song/beats.js";
import type { Tune } from "../../src/song/tune.js";
import { readScoreText } from "../../src/xml/container.js";
import { isJudgeHere, readByJudge } from "../support/outside-judge.js";
import { chordTable, melodyTable, readText } from "../support/reading.js";
import { SHARED } from "../support/shared.js";

const FOLDER = join(SHARED, "corpus", "lead-sheets");

/** Where we read otherwise than the judge, and why. */
const READ_OTHERWISE: Readonly<Record<string, string>> = {
  ...Object.fromEntries(
    ["531ed39a33", "9e61ccb3f8", "b3c6cf3829", "cdedc29170", "d4779323ae"].map((name) => [
      `${name}.mxl chords`,
      "two chords of the same tones on one beat, such as C6 and Am7: to the judge they are one",
    ]),
  ),
  "e1363c7309.mxl melody":
    "two bars of slash notation hold placeholder pitches, which the judge takes for tune",
  "e1363c7309.mxl chords":
    "a chord symbol at the end of bar 41 falls on one of bar 42's own; the judge lists the one that comes first in the file",
};

type Row = readonly unknown[];

const rounded = (rows: readonly Row[]): readonly Row[] =>
  rows.map((row) => row.map((value) => (typeof value === "number" ? Math.round(value * 1e6) / 1e6 : value)));

/**
 * The judge lists every chord symbol where it stands in the file. Several on one beat are ours to spread:
 * those after the first keep their order and may stand on a later beat of the bar, which is marked by a
 * beat of "later". Where we said that only the first counts, it is the only one.
 */
function asSpread(judged: readonly Row[], firstOnly: ReadonlySet<string>): readonly Row[] {
  const spread: Row[] = [];
  judged.forEach((row, index) => {
    const [measure, beat, tones] = row;
    const isAt = (other: Row | undefined) => other?.[0] === measure && other?.[1] === beat;
    const before = judged[index - 1];
    const next = judged[index + 1];
    if (!isAt(before)) spread.push(row);
    else if (firstOnly.has(`${measure}:${beat}`)) return;
    else if (JSON.stringify(before?.[2]) === JSON.stringify(tones)) return;
    // It stands on the bar's next beat by itself as well.
    else if (!isAt(next) && next?.[0] === measure && JSON.stringify(next?.[2]) === JSON.stringify(tones))
      return;
    else spread.push([measure, "later", tones]);
  });
  return spread;
}

/** The judge counts quarters in every meter. */
const inQuarters = ({ measure = 1, beat = 1 }: Place, { measures }: Tune): number =>
  1 + (beat - 1) * quartersPerBeat(measures[measure - 1]?.meter);

/** Where the judge cannot say what a kind means, only the time counts. */
const agrees = (ours: Row | undefined, judged: Row | undefined): boolean =>
  ours !== undefined &&
  judged !== undefined &&
  ours.length === judged.length &&
  ours.every(
    (value, index) =>
      judged[index] === null ||
      judged[index] === "later" ||
      JSON.stringify(value) === JSON.stringify(judged[index]),
  );

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
    let spread = 0;
    for (const judged of readByJudge(readdirSync(FOLDER).map((name) => join(FOLDER, name)))) {
      expect(judged.error, judged.file).toBeUndefined();
      // The judge reads chord symbols only; chords that are text have their own tests.
      const { text } = readScoreText(readFileSync(judged.file));
      const { tune, findings } = readText(text.replace(/<(\/?)words\b/g, "<$1other-direction"));
      const firstOnly = findings.all.flatMap(({ rule, place }) =>
        rule === "chords-at-one-time" ? [`${place.measure}:${inQuarters(place, tune)}`] : [],
      );
      const melody = firstDifference(rounded(melodyTable(tune)), rounded(judged.melody));
      const chords = firstDifference(
        rounded(chordTable(tune)),
        asSpread(rounded(judged.chords), new Set(firstOnly)),
      );
      spread += findings.all.filter(({ rule }) => rule === "chords-spread").length;
      if (melody !== undefined) differences[`${basename(judged.file)} melody`] = melody;
      if (chords !== undefined) differences[`${basename(judged.file)} chords`] = chords;
      melodyNotes += tune.melody.length;
    }
    expect(Object.keys(differences).sort(), JSON.stringify(differences)).toEqual(
      Object.keys(READ_OTHERWISE).sort(),
    );
    expect(melodyNotes).toBeGreaterThan(10_000);
    // 462 beats of the collection bear several chords; most have room for them.
    expect(spread).toBeGreaterThan(400);
  },
  180_000,
);

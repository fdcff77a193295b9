import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { arrangeScore } from "../../src/arrange-score.js";
import { Findings, type Place, ScoreError } from "../../src/diagnostics.js";
import { completeOptions } from "../../src/options/option-checking.js";
import type { EventReport, Report } from "../../src/reporting/report.js";
import type { WrittenWish } from "../../src/wishes/wishes-file.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { harmony, leadSheet, note } from "../support/score-text.js";

/** Four bars: C5 twice and a half note, C5 held over two chords, quarter triplets, G4. */
const SCORE = leadSheet(
  `${harmony("C")}${note("C5", 4)}${note("E5", 4)}${note("G5", 8)}`,
  `${harmony("A", "minor-seventh")}${note("C5", 8, { tie: "start" })}${harmony("F", "major-seventh")}${note("C5", 8, { tie: "stop" })}`,
  `${harmony("D", "minor-seventh")}${note("F5", 4)}${note("D5", 4)}${note("A4", 8)}`,
  `${harmony("G", "dominant")}${note("G4", 16)}`,
);

const reported = (wishes: readonly WrittenWish[], given: object = {}): Report =>
  arrangeScore(parseXml(SCORE), completeOptions(given), new Findings(), { wishes }).report;

/** The error that keeps wishes from being granted. */
function refusal(wishes: readonly WrittenWish[], score = SCORE): ScoreError {
  try {
    arrangeScore(parseXml(score), completeOptions({}), new Findings(), { wishes });
  } catch (error) {
    if (error instanceof ScoreError) return error;
    throw error;
  }
  throw new Error("granted");
}

const at = (report: Report, measure: number, beat: number): EventReport | undefined =>
  report.events.find((event) => event.measure === measure && event.beat === beat);

const frets = (event: EventReport | undefined): readonly string[] =>
  event?.notes.map(({ string, fret }) => `${string}:${fret}`) ?? [];

describe("a wish is for the measure and the beat that it names", () => {
  test("a grip with its fingers", () => {
    const grip = [
      { string: 4, fret: 9, finger: 2 },
      { string: 3, fret: 9, finger: 3 },
      { string: 1, fret: 8, finger: 1 },
    ] as const;
    const report = reported([{ measure: 1, beat: 1, grip }]);
    expect(at(report, 1, 1)?.notes).toEqual(grip);
  });

  test("a note alone in the middle of a bar", () => {
    expect(at(reported([]), 3, 3)?.attack).not.toBe("single");
    expect(at(reported([{ measure: 3, beat: 3, play: "single" }]), 3, 3)?.attack).toBe("single");
  });

  test("strings left alone from one measure to another", () => {
    const measuresWith = (report: Report, string: number) =>
      new Set(
        report.events
          .filter(({ notes }) => notes.some((one) => one.string === string))
          .map((one) => one.measure),
      );
    expect([...measuresWith(reported([]), 3)]).toEqual(expect.arrayContaining([1, 2, 3]));
    const wished = measuresWith(reported([{ measures: [1, 2], avoid: { strings: [3] } }]), 3);
    expect([wished.has(1), wished.has(2), wished.has(3)]).toEqual([false, false, true]);
  });

  test("in the key that the tune is moved to, strings and frets are those of the guitar", () => {
    const grip = [
      { string: 3, fret: 7 },
      { string: 2, fret: 6 },
      { string: 1, fret: 6 },
    ] as const;
    const report = reported([{ measure: 1, beat: 1, grip }], { key: "Bb" });
    expect(frets(at(report, 1, 1))).toEqual(["3:7", "2:6", "1:6"]);
  });

  test("the best key is one in which the wishes can be granted", () => {
    const grip = [
      { string: 3, fret: 7 },
      { string: 2, fret: 6 },
      { string: 1, fret: 6 },
    ] as const;
    const report = reported([{ measure: 1, beat: 1, grip }], { key: "best" });
    expect(report.key.after).toBe("Bb major or G minor");
    expect(frets(at(report, 1, 1))).toEqual(["3:7", "2:6", "1:6"]);
  });
});

describe("a wish that cannot be granted is refused by its number, with what would do", () => {
  test.each<[string, readonly WrittenWish[], RegExp, Place]>([
    [
      "a measure after the last",
      [{ measure: 9, beat: 1, play: "single" }],
      /^Wish 1 \(measure 9, beat 1\) cannot be granted\. The tune has 4 measures, and the nearest is measure 4\.$/,
      { measure: 9, beat: 1 },
    ],
    [
      "a beat after the last",
      [{ measure: 3, beat: 5, play: "single" }],
      /Measure 3 has beats from 1 to below 5, and the nearest moment in it is beat 3/,
      { measure: 3, beat: 5 },
    ],
    [
      "a beat between two notes",
      [{ measure: 1, beat: 1.5, play: "single" }],
      /wish 1 \(measure 1, beat 1\.5\).*nearest is measure 1, beat 1/i,
      { measure: 1, beat: 1.5 },
    ],
    [
      "measures in the wrong order",
      [{ measures: [3, 2], texture: "full" }],
      /last measure stands before its first/,
      { measure: 3, beat: 1 },
    ],
    [
      "two grips for one moment",
      [
        { measure: 4, beat: 1, grip: [{ string: 1, fret: 3 }] },
        { measure: 4, beat: 1, grip: [{ string: 2, fret: 8 }] },
      ],
      /Wish 2 .* and Wish 1 .* ask for two grips/,
      { measure: 4, beat: 1 },
    ],
    [
      "a grip on a string that another wish forbids, whichever comes first",
      [
        { measures: [4], avoid: { strings: [1] } },
        { measure: 4, beat: 1, grip: [{ string: 1, fret: 3 }] },
      ],
      /wish 1 \(measure 4\) cannot be granted/i,
      { measure: 4, beat: 1 },
    ],
    [
      "a note that rings on from one string to another: both wishes are named",
      [
        { measure: 2, beat: 1, grip: [{ string: 1, fret: 8 }] },
        { measure: 2, beat: 3, grip: [{ string: 2, fret: 13 }] },
        { measures: [4], texture: "full" },
      ],
      /^wish 1 \(measure 2, beat 1\), wish 2 \(measure 2, beat 3\) cannot be granted together; without any one/i,
      { measure: 2, beat: 1 },
    ],
    [
      "a grip that no hand can hold",
      [
        {
          measure: 1,
          beat: 2,
          grip: [
            { string: 4, fret: 1 },
            { string: 1, fret: 12 },
          ],
        },
      ],
      /No hand can hold it/,
      { measure: 1, beat: 2 },
    ],
    [
      "a string that the instrument has not",
      [{ measure: 1, beat: 2, grip: [{ string: 9, fret: 1 }] }],
      /no such place/,
      { measure: 1, beat: 2 },
    ],
    [
      "every string forbidden: the first moment at which nothing is left",
      [{ measures: [3], avoid: { strings: [1, 2, 3, 4, 5, 6] } }],
      /^Wish 1 \(measure 3\) cannot be granted/,
      { measure: 3, beat: 1 },
    ],
    [
      "a last measure that there is not",
      [{ measures: [2, 99], texture: "full" }],
      /The tune has 4 measures/,
      { measure: 2, beat: 1 },
    ],
  ])("%s", (_, wishes, said, place) => {
    const error = refusal(wishes);
    expect(error.message).toMatch(said);
    expect(error.finding.place).toEqual(place);
  });

  test("a measure with a number of its own is named by both", () => {
    const numbered = SCORE.replace('<measure number="3"', '<measure number="12a"');
    expect(refusal([{ measure: 3, beat: 9, play: "single" }], numbered).finding.place).toEqual({
      measure: 3,
      measureLabel: "12a",
      beat: 9,
    });
  });
});

const SAMPLES = ["slow-bell", "long-ladder"].map((name) => ({
  name,
  document: parseXml(
    readFileSync(fileURLToPath(new URL(`../../sample-scores/${name}.musicxml`, import.meta.url)), "utf8"),
  ),
}));

test.each(SAMPLES)(
  "a wished grip in $name moves nothing more than eight moments away",
  ({ document }) => {
    const options = completeOptions({ alternatives: 1 });
    const plain = arrangeScore(document, options, new Findings()).report.events;
    const key = ({ attack, notes }: EventReport) => JSON.stringify([attack, notes]);
    const other = plain.flatMap((event, index) => {
      const grip = event.alternatives[0];
      return grip?.attack === "struck" && event.attack === "struck" ? [{ index, event, grip }] : [];
    });
    expect(other.length).toBeGreaterThan(5);
    for (const { index, event, grip } of other.filter((_, place) => place % 5 === 0)) {
      const wish: WrittenWish = { measure: event.measure, beat: event.beat, grip: grip.notes };
      const wished = arrangeScore(document, options, new Findings(), { wishes: [wish] }).report.events;
      const changed = plain.flatMap((one, place) => (key(one) === key(wished[place] ?? one) ? [] : [place]));
      expect(wished[index]?.notes).toEqual(grip.notes);
      expect(changed).toContain(index);
      for (const place of changed) expect(Math.abs(place - index)).toBeLessThanOrEqual(8);
    }
  },
  120_000,
);

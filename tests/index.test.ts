import { expect, test } from "vitest";
import * as face from "../src/index.js";

test("the library shows these names and no others", () => {
  expect(Object.keys(face).toSorted()).toEqual([
    "CHECK_OPTIONS",
    "CHECK_SCHEMA",
    "FILE_LIMITS",
    "FINDING_SCHEMA",
    "Findings",
    "OPTIONS",
    "OPTIONS_SCHEMA",
    "OptionsError",
    "REPORT_SCHEMA",
    "ScoreError",
    "arrangeBytes",
    "arrangeScore",
    "checkReport",
    "checkScore",
    "checkSummaryLines",
    "completeOptions",
    "compressedScore",
    "jsonReport",
    "parseXml",
    "printXml",
    "readGuitarScore",
    "readScoreText",
    "summaryLines",
    "textOfFinding",
    "textReport",
  ]);
});

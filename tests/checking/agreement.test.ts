import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { checkScore } from "../../src/checking/check-score.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { guitarScoreText } from "../support/guitar-score-text.js";
import { isJudgeHere } from "../support/outside-judge.js";
import { SHARED } from "../support/shared.js";

/** Our rules for each hard promise of the outside judge that a guitar score can break by itself. */
const OURS: Readonly<Record<string, readonly string[]>> = {
  tab: ["staves-disagree"],
  string: ["fret-pitch-mismatch", "string-taken", "string-fret-missing", "out-of-range"],
  hand: ["finger-missing", "fingers-missing", "finger-on-two-frets", "finger-order", "finger-reach"],
  melody: ["melody-missing", "melody-length"],
  top: ["melody-not-on-top"],
};

const folder = mkdtempSync(join(tmpdir(), "undervoice-check-"));
afterAll(() => rmSync(folder, { recursive: true }));

function brokenByJudge(lead: string, score: string): ReadonlySet<string> {
  const paths = [join(folder, "lead.musicxml"), join(folder, "score.musicxml")];
  writeFileSync(paths[0] ?? "", guitarScoreText(lead, { layout: "notation" }));
  writeFileSync(paths[1] ?? "", score);
  const { stdout } = spawnSync("python3", [join(SHARED, "check/verify.py"), ...paths, "--json"], {
    encoding: "utf8",
  });
  const { broken } = JSON.parse(stdout) as { readonly broken: readonly (readonly [string, string])[] };
  return new Set(broken.map(([rule]) => rule).filter((rule) => Object.hasOwn(OURS, rule)));
}

function brokenByUs(score: string): ReadonlySet<string> {
  const rules = checkScore(parseXml(score), completeOptions({ frets: 20 })).findings.map(({ rule }) => rule);
  return new Set(Object.keys(OURS).filter((promise) => OURS[promise]?.some((rule) => rules.includes(rule))));
}

const TUNE = "G4/4 F4/4 E4/2 | G4/2 C5/2";

type Case = readonly [
  name: string,
  lead: string,
  score: string,
  broken: readonly string[],
  byJudgeBesides?: readonly string[],
];

const CASES: readonly Case[] = [
  ["nothing", TUNE, "3:0+1:3:4/4 1:1:1/4 4:2:2+1:0/2 | 4:2:2+1:3:4/2 2:5:1+1:8:4/2", []],
  ["a fret beside its pitch", TUNE, "1:4:3=G4/4 1:1:1/4 1:0/2 | 1:3:4/2 1:8:4/2", ["string"]],
  [
    "a string struck while it should ring",
    TUNE,
    "1:3:4/4 1:1:1/4 1:0/2 | 1:3:4/2 1:8:4/2 & r/2 r/4 1:5:1/4",
    ["string"],
  ],
  // The judge does not hear a note that has no string: it misses the melody too.
  ["a note without string and fret", TUNE, "1:3:4/4 1:1:1/4 E4/2 | 1:3:4/2 1:8:4/2", ["string"], ["melody"]],
  ["a fret that no neck has", "G4/2 F6/2", "1:3:4/2 1:25:4/2", ["string"]],
  ["a missing finger", TUNE, "1:3:4/4 1:1/4 1:0/2 | 1:3:4/2 1:8:4/2", ["hand"]],
  ["no fingers", TUNE, "1:3/4 1:1/4 1:0/2 | 1:3/2 1:8/2", ["hand"]],
  ["one finger at two frets", TUNE, "2:1:1+1:3:1/4 1:1:1/4 1:0/2 | 1:3:4/2 1:8:4/2", ["hand"]],
  ["crossed fingers", TUNE, "2:1:4+1:3:1/4 1:1:1/4 1:0/2 | 1:3:4/2 1:8:4/2", ["hand"]],
  ["fingers that do not reach", TUNE, "1:3:4/4 1:1:1/4 1:0/2 | 1:3:4/2 2:1:1+1:8:4/2", ["hand"]],
  ["a stretch that people reach", TUNE, "2:1:2+1:3:4/4 1:1:1/4 1:0/2 | 1:3:4/2 2:4:1+1:8:4/2", []],
  ["a melody note left out", TUNE, "1:3:4/4 r/4 1:0/2 | 1:3:4/2 1:8:4/2", ["melody"]],
  ["a melody note cut short", TUNE, "1:3:4/4 1:1:1/4 1:0/4 r/4 | 1:3:4/2 1:8:4/2", ["melody"]],
  ["a tune that was moved", "F4/4 Eb4/4 D4/2 | F4/2 Bb4/2", "1:3:4/4 1:1:1/4 1:0/2 | 1:3:4/2 1:8:4/2", []],
  ["a note above the melody", TUNE, "1:3:4/4 1:1:1/4 1:0/2 | 1:3:4/2 2:13:1+1:10:1=D5/2", ["hand", "top"]],
];

/** One TAB note out of step with its notation, in what is otherwise nothing wrong. */
const withTabChanged = (score: string): string =>
  score.replace(/(<part id="T">.*?)<duration>8<\/duration>/s, "$1<duration>4</duration>");

test.skipIf(!isJudgeHere)("we find broken what an outside judge finds broken, and nothing else", () => {
  for (const [name, lead, text, broken, besides = []] of CASES) {
    const score = guitarScoreText(text, { lead });
    expect([...brokenByUs(score)].sort(), name).toEqual(broken.toSorted());
    expect([...brokenByJudge(lead, score)].sort(), name).toEqual([...broken, ...besides].sort());
  }
});

test.skipIf(!isJudgeHere)("a TAB that lets a note go early is found by both", () => {
  const score = withTabChanged(guitarScoreText(CASES[0]?.[2] ?? "", { lead: TUNE }));
  expect(brokenByUs(score)).toContain("tab");
  expect(brokenByJudge(TUNE, score)).toContain("tab");
});

import { expect, test } from "vitest";
import { arrangeScore } from "../../src/arrange-score.js";
import { Findings } from "../../src/diagnostics.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { quartersPerBeat } from "../../src/song/beats.js";
import { measurePlace } from "../../src/song/measure-place.js";
import type { Meter } from "../../src/song/tune.js";
import { readWishes } from "../../src/wishes/read-wishes.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { attributes, harmony, note, score } from "../support/score-text.js";

/** Beats a bar, as conductors beat it. Common practice. */
const BEATEN = [
  { time: "6/8", beats: 2 },
  { time: "9/8", beats: 3 },
  { time: "12/8", beats: 4 },
  { time: "6/16", beats: 2 },
  { time: "3/8", beats: 3 },
  { time: "2/2", beats: 2 },
  { time: "3/4", beats: 3 },
  { time: "4/4", beats: 4 },
  { time: "7/8", beats: 7 },
] as const;

test.each(BEATEN)("$time has $beats beats", ({ time, beats }) => {
  const [count = 4, beatType = 4] = time.split("/").map(Number);
  const meter: Meter = { beats: count, beatType };
  expect((4 * count) / beatType / quartersPerBeat(meter)).toBe(beats);
  const measures = [{ index: 0, label: "1", start: 0, meter }];
  const lastBeat = ((beats - 1) / beats) * 48;
  expect(measurePlace({ measures, ticksPerQuarter: (12 * beatType) / count }, lastBeat)?.beat).toBe(beats);
});

const JIG = leadSheetFromText(
  "title: The Gate in the Hedge\nkey: 0 major\ntime: 6/8\n\n[C] G4/8 C5/8 E5/8 [F] F5/8 E5/8 D5/8 | [C] C5/2. ||\n",
);

function reported(xml: string, wishes?: object) {
  const file = wishes === undefined ? undefined : readWishes(JSON.stringify(wishes));
  return arrangeScore(parseXml(xml), completeOptions({}), new Findings(), file).report;
}

test("a jig is reported in dotted quarters, to a thousandth", () => {
  expect(reported(JIG).events.map(({ measure, beat }) => `${measure}:${beat}`)).toEqual([
    "1:1",
    "1:1.333",
    "1:1.667",
    "1:2",
    "1:2.333",
    "1:2.667",
    "2:1",
  ]);
});

test("every beat that a report names is one that a wish may name", () => {
  for (const { measure, beat } of reported(JIG).events) {
    const { events } = reported(JIG, { wishes: [{ measure, beat, play: "single" }] });
    expect(events.find((event) => event.measure === measure && event.beat === beat)?.attack).toBe("single");
  }
});

test("what is wrong on the way is placed by the same beats", () => {
  const bar = harmony("C") + note("C5", 6) + harmony("G", "mystery") + note("B4", 6);
  const jig = score([
    { bars: [attributes("<time><beats>6</beats><beat-type>8</beat-type></time>") + bar, note("C5", 12)] },
  ]);
  const unread = reported(jig).findings.find(({ rule }) => rule.startsWith("chord-kind"));
  expect(unread?.place).toMatchObject({ measure: 1, beat: 2 });
});

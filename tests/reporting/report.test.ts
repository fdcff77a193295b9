import { Ajv } from "ajv";
import { describe, expect, test } from "vitest";
import type {
  ArrangedEvent,
  Arrangement,
  Placement,
  SupportNote,
} from "../../src/arrangement/arrangement.js";
import { Findings } from "../../src/diagnostics.js";
import type { LeadSheet } from "../../src/musicxml/lead-sheet/lead-sheet.js";
import { instrumentFrom } from "../../src/options/instrument-from-options.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { explanationLines } from "../../src/reporting/explanation.js";
import { jsonReport } from "../../src/reporting/json-report.js";
import { type Report, reportOf } from "../../src/reporting/report.js";
import { REPORT_SCHEMA } from "../../src/reporting/report-schema.js";
import { summaryLines } from "../../src/reporting/summary.js";
import { textReport } from "../../src/reporting/text-report.js";
import type { MelodyNote, Tune } from "../../src/song/tune.js";

/**
 * Two bars of four quarters at 60, repeated: D4 alone (pickup to the chords), C5 struck over Am7, C5 ringing
 * on while D7 is struck, then after a rest E5 held by itself far up the neck. One tick a quarter.
 */
const note = (index: number, onset: number, length: number, midi: number): MelodyNote => ({
  index,
  onset,
  length,
  midi,
  pitch: { letter: "C", alter: 0, octave: 5 },
  measure: onset < 4 ? 0 : 1,
  isPickup: index === 0,
  weight: 1,
});

const tune: Tune = {
  title: "Two Bars",
  ticksPerQuarter: 1,
  measures: [
    { index: 0, label: "1", start: 0, length: 4, meter: { beats: 4, beatType: 4 } },
    { index: 1, label: "1a", start: 4, length: 4, meter: { beats: 4, beatType: 4 } },
  ],
  melody: [note(0, 0, 1, 62), note(1, 1, 4, 72), note(2, 7, 1, 76)],
  chords: [
    { index: 0, start: 1, end: 4, symbol: chord("A", "minor-seventh"), measure: 0 },
    { index: 1, start: 4, end: 8, symbol: chord("D", "dominant"), measure: 1 },
  ],
  tempos: [{ at: 0, quartersPerMinute: 60 }],
  keys: [{ at: 0, fifths: -3, mode: "minor" }],
  jumps: [{ from: 8, to: 0 }],
};

function chord(letter: "A" | "D", kind: string) {
  return { root: { letter, alter: 0 }, kind, degrees: [], bass: undefined };
}

const support = (onset: number, end: number, degree: string, place: Placement): SupportNote => ({
  ...place,
  onset,
  end,
  degree,
  midi: 60,
  pitch: { letter: "C", alter: 0, octave: 4 },
});

const event = (given: Partial<ArrangedEvent> & Pick<ArrangedEvent, "onset" | "attack">): ArrangedEvent => ({
  melodyNote: 0,
  chord: undefined,
  melodyDegree: undefined,
  supports: [],
  barres: [],
  handMm: 0,
  whySingle: undefined,
  voicesLeftOut: [],
  leftOut: [],
  alternatives: [],
  ...given,
});

const arrangement: Arrangement = {
  instrument: instrumentFrom(completeOptions({})),
  transposition: { semitones: 3, interval: "3m" },
  playedOtherwise: [1],
  melody: [
    { string: 2, fret: 3, finger: 3 },
    { string: 2, fret: 1, finger: 1 },
    { string: 1, fret: 12, finger: 1 },
  ],
  supports: [
    support(1, 4, "1", { string: 5, fret: 0, finger: 0 }),
    support(1, 4, "b7", { string: 3, fret: 5, finger: 4 }),
    support(4, 5, "3", { string: 4, fret: 4, finger: 4 }),
  ],
  events: [
    event({ onset: 0, attack: "single", whySingle: "no-chord", handMm: 100 }),
    event({
      onset: 1,
      attack: "struck",
      melodyNote: 1,
      chord: 0,
      melodyDegree: "b3",
      supports: [0, 1],
      handMm: 100,
      leftOut: [{ degree: "5", reason: "least-needed" }],
      alternatives: [
        {
          attack: "single",
          notes: [{ string: 1, fret: 8, finger: 4, midi: 72 }],
          degrees: [],
          extraCost: 40,
        },
      ],
    }),
    event({
      onset: 4,
      attack: "under",
      melodyNote: 1,
      chord: 1,
      melodyDegree: "b7",
      supports: [2],
      barres: [{ finger: 1, fret: 1, from: 3, to: 2 }],
      handMm: 130,
    }),
    event({ onset: 7, attack: "held", melodyNote: 2, chord: 1, melodyDegree: "9", handMm: 300 }),
  ],
  graces: new Map(),
  cost: 0,
};

const sheet: LeadSheet = {
  tune,
  source: {
    score: { kind: "element", name: "score-partwise", attributes: new Map(), children: [] },
    melodyPartId: "P1",
    melodyPartName: "Voice",
    voice: "1",
    staff: "1",
    harmonyPartId: "P1",
    transpositions: [],
    measures: [],
    written: [],
    textsTaken: new Set(),
  },
};

const findings = new Findings();
findings.add({
  rule: "chord-kind-unlisted",
  severity: "warning",
  place: { measure: 2, beat: 1 },
  found: "min7",
  expected: "minor-seventh",
  message: 'Unexpected chord kind "min7".',
});
const reported = (tempo?: number, shift = 250): Report =>
  reportOf(sheet, arrangement, { ...completeOptions({}), tempo, shift }, findings);
const report = reported();

describe("the report of two repeated bars", () => {
  test("the key is named before and after the move", () => {
    expect(report.key).toEqual({ before: "C minor", after: "Eb minor", semitones: 3 });
  });

  test("every melody note is counted once, a chord change under it apart", () => {
    expect(report.melody).toEqual({
      part: "P1",
      partName: "Voice",
      notes: 3,
      struck: 1,
      held: 1,
      single: 1,
      singleUnderChord: 0,
    });
    expect(report.chordChangesUnderHeldNotes).toBe(1);
    expect(report.barres).toBe(1);
  });

  test("the hardest move is the leap back at the repeat, where one beat is left", () => {
    // 200 mm in one second; the 170 mm to the last note have three.
    expect(report.hardestMove).toEqual({
      from: { measure: 2, measureLabel: "1a", beat: 4 },
      to: { measure: 1, beat: 1 },
      moveMm: 200,
      secondsAvailable: 1,
      mmPerSecond: 200,
    });
  });

  test("at twice the tempo the same move has half the time", () => {
    expect(reported(120).hardestMove).toMatchObject({ secondsAvailable: 0.5, mmPerSecond: 400 });
  });

  test("the widest reach is from the first fret to the fifth, in millimetres", () => {
    // On a 650 mm scale fret 1 stands at 36.5 mm and fret 5 at 163.1 mm.
    expect(report.widestReach).toMatchObject({ measure: 1, beat: 2 });
    expect(report.widestReach?.reachMm).toBeCloseTo(163.1 - 36.5, 1);
  });

  test("a moment says its chord as moved, its degrees low to high and where they are stopped", () => {
    expect(report.events[1]).toEqual({
      measure: 1,
      beat: 2,
      chord: "Cm7",
      attack: "struck",
      melody: "Eb5",
      melodyDegree: "b3",
      degrees: ["1", "b7", "b3"],
      notes: [
        { string: 5, fret: 0, finger: 0 },
        { string: 3, fret: 5, finger: 4 },
        { string: 2, fret: 1, finger: 1 },
      ],
      barres: [],
      leftOut: [{ degree: "5", reason: "least-needed" }],
      // From beat 2 of the first bar to the second bar: three quarters at 60.
      moveMm: 30,
      secondsAvailable: 3,
      mmPerSecond: 10,
      alternatives: [
        {
          attack: "single",
          extraCost: 40,
          degrees: ["b3"],
          notes: [{ string: 1, fret: 8, finger: 4 }],
        },
      ],
    });
    expect(report.events[3]).not.toHaveProperty("moveMm");
  });

  test("the JSON report is what its schema describes, and the schema refuses a field it does not know", () => {
    const fits = new Ajv({ allErrors: true, allowUnionTypes: true }).compile(REPORT_SCHEMA);
    fits(JSON.parse(jsonReport(report)));
    expect(fits.errors).toBeNull();
    expect(fits({ ...report, mood: "wistful" })).toBe(false);
    expect(fits({ ...report, melody: undefined })).toBe(false);
  });

  test("the summary names the hardest place and every finding in one line each", () => {
    expect(summaryLines(report)).toEqual([
      "Two Bars",
      "Key: C minor to Eb minor (+3 semitones)",
      "Melody: 3 notes from part P1 (Voice): 1 struck with a chord, 1 over a chord that rings on, 1 alone",
      "Chord changes under held notes: 1",
      "Hardest move: 200 mm in 1.0 s (200 mm/s), to measure 1, beat 1",
      "Widest reach: 127 mm, measure 1, beat 2",
      "Come again and are played otherwise than before: measure 2",
      'measure 2, beat 1: warning: Unexpected chord kind "min7".',
      expect.stringMatching(
        /^measure 1, beat 2: note: 2 grips reach further .* 127 mm between fingers 1 and 4/,
      ),
    ]);
  });

  test("the summary says of a tune that was moved by octaves how many and which way", () => {
    const moved = (semitones: number) =>
      summaryLines({ ...report, key: { before: "C minor", after: "C minor", semitones } })[1];
    expect([moved(0), moved(-12), moved(24)]).toEqual([
      "Key: C minor",
      "Key: C minor, 1 octave down",
      "Key: C minor, 2 octaves up",
    ]);
  });

  test("the text report has a line for each moment under the summary", () => {
    const lines = textReport(report).trimEnd().split("\n");
    expect(lines.slice(-4)).toHaveLength(report.events.length);
    expect(lines.at(-3)).toMatch(/^1\s+2\s+Cm7\s+struck\s+1 b7 b3\s+5\s+5:0 3:5-4 2:1-1\s+30\s+10$/);
    expect(lines.at(-1)).toMatch(/^1a\s+4\s+F7\s+held\s+9\s+1:12-1$/);
  });
});

describe("what the summary says of the tempo", () => {
  test("moves faster than the hand travels are counted against all there are", () => {
    // 200 mm in the second before the repeat; 170 mm in three seconds, 30 mm in three, none in one.
    expect(report.moves).toEqual({ count: 4, beyondLimit: 0, limitMmPerSecond: 250 });
    expect(reported(60, 199).moves.beyondLimit).toBe(1);
    expect(reported(60, 50).moves.beyondLimit).toBe(2);
    expect(summaryLines(reported(60, 199))).toContain("Moves faster than 199 mm/s: 1 of 4");
  });

  test("a note left alone under a chord is told from one before the first chord", () => {
    const events = arrangement.events.map((one, index) =>
      index === 3 ? { ...one, attack: "single" as const } : one,
    );
    const bare = reportOf(sheet, { ...arrangement, events }, completeOptions({ tempo: 60 }), new Findings());
    expect(bare.melody).toMatchObject({ single: 2, singleUnderChord: 1 });
    expect(summaryLines(bare)[2]).toMatch(/2 alone \(1 of them under a chord symbol\)$/);
  });
});

test("under the highest level it is said what that level asks and leaves out", () => {
  const leftOut = [{ degree: "3", reason: "out-of-reach" } as const];
  const events = arrangement.events.map((one, index) =>
    index === 3
      ? { ...one, attack: "single" as const }
      : { ...one, leftOut: index === 2 ? leftOut : one.leftOut },
  );
  const options = completeOptions({ level: "elementary", texture: "fluent", tempo: 60 });
  const { findings: said } = reportOf(sheet, { ...arrangement, events }, options, new Findings());
  // The fifth of the second moment and the third of the third; one note of three under a chord is alone.
  expect(said).toContainEqual(
    expect.objectContaining({
      rule: "level-leaves-out",
      severity: "note",
      message:
        "At the elementary level (up to fret 5, no barres, 65 % of the widest reach, 3 notes a grip, the fluent texture) " +
        "1 of 3 melody notes under a chord symbol are alone, and its struck grips do without 2 tones of their chords.",
    }),
  );
  const atTheTop = reportOf(sheet, { ...arrangement, events }, completeOptions({}), new Findings());
  expect(atTheTop.findings.map(({ rule }) => rule)).not.toContain("level-leaves-out");
});

test("an explanation gives each moment a line, and another where something else could be played", () => {
  expect(explanationLines(report).slice(1)).toEqual([
    "measure 1, beat 1: Eb5, alone (no chord is in force), at 2:3-3. The hand stays.",
    "measure 1, beat 2: Eb5, b3 over Cm7, struck with 1 b7, at 5:0 3:5-4 2:1-1. Without 5 (least needed). Then 30 mm in 3.00 s (10 mm/s).",
    "    or alone at 1:8-4 (+40)",
    "measure 2 (numbered 1a), beat 1: Eb5, b7 over F7, ringing on over 3, struck now, at 4:4-4 2:1-1. Then 170 mm in 3.00 s (57 mm/s).",
    "measure 2 (numbered 1a), beat 4: Eb5, 9 over F7, over its chord ringing on, at 1:12-1.",
  ]);
});

test("a hand that never moves has no hardest move", () => {
  const still = { ...arrangement, events: arrangement.events.map((one) => ({ ...one, handMm: 100 })) };
  const { hardestMove, ...rest } = reportOf(sheet, still, completeOptions({}), new Findings());
  expect(hardestMove).toBeUndefined();
  expect(summaryLines(rest)).toContain("Hardest move: none, the hand stays where it is");
});

test("what the melody left ringing is said with the moment, in words and as data", () => {
  const place = { string: 3, fret: 2, finger: 1 } as const;
  const left = { ...support(0, 1, "5", { ...place, string: 2 }), leftByMelody: 0 };
  const events = [event({ onset: 0, attack: "held", chord: 0, melodyDegree: "1", supports: [0, 1] })];
  const supports = [support(0, 1, "3", place), left];
  const said = reportOf(sheet, { ...arrangement, events, supports }, completeOptions({}), new Findings());
  expect(said.events[0]?.leftByMelody).toEqual(["5"]);
  expect(explanationLines(said)[1]).toContain("over 3 5 ringing on (5 left by the melody)");
  const fits = new Ajv({ allErrors: true, allowUnionTypes: true }).compile(REPORT_SCHEMA);
  expect(fits(JSON.parse(jsonReport(said)))).toBe(true);
});

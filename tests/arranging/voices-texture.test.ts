import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { keptOfEnsemble } from "../../src/arrangement/kept-of-ensemble.js";
import {
  type Arranged,
  arrangeScore,
  checkedWishes,
  completeOptions,
  Findings,
  readScore,
  ScoreError,
  surveyKeys,
} from "../../src/index.js";
import { explanationLines } from "../../src/reporting/explanation.js";
import { keysLines } from "../../src/reporting/keys-text.js";
import { textReport } from "../../src/reporting/text-report.js";
import { pitchText } from "../../src/song/pitch.js";
import { transposedTune } from "../../src/song/transposition.js";
import { ensembleFromText } from "../support/ensemble-from-text.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";

const HEAD = "title: Moss on the Steps\nkey: 0 major\ntime: 4/4\ntempo: 60";

function arranged(xml: string, wishes: readonly object[] = [], options = {}): Arranged {
  const document = readScore(new TextEncoder().encode(xml), new Findings());
  const whole = completeOptions({ texture: "voices", alternatives: 0, ...options });
  return arrangeScore(document, whole, new Findings(), checkedWishes({ wishes }));
}

/** "1:1 C3 2": bar, beat, pitch and quarters of each supporting note. */
const supportsOf = ({ arrangement, sheet }: Arranged): readonly string[] =>
  arrangement.supports.map(({ onset, end, pitch }) => {
    const quarters = (ticks: number) => ticks / sheet.tune.ticksPerQuarter;
    return `${Math.floor(quarters(onset) / 4) + 1}:${(quarters(onset) % 4) + 1} ${pitchText(pitch)} ${quarters(end - onset)}`;
  });

const keptOf = ({ sheet, arrangement }: Arranged) =>
  keptOfEnsemble(transposedTune(sheet.tune, arrangement.transposition), arrangement);

describe("Under the melody sounds what the other voices sing", () => {
  test("at their pitch and for as long as they sing it", () => {
    const trio = ensembleFromText(`${HEAD}

part: Treble
E4/4 F4/4 G4/4 F4/4 | E4/1 ||

part: Middle
C4/2 D4/2 | C4/1 ||

part: Low
A2/1 | C3/1 ||`);
    expect(supportsOf(arranged(trio))).toEqual(["1:1 A2 4", "1:1 C4 2", "1:3 D4 2", "2:1 C3 4", "2:1 C4 4"]);
  });

  test("a suspension is prepared, held over and resolved in its own voice", () => {
    const trio = ensembleFromText(`${HEAD}

part: Treble
C5/2 B4/2~ | B4/2 C5/2 ||

part: Middle
E4/2 G4/2~ | G4/4 F#4/4 G4/2 ||

part: Low
A2/2 E3/2 | D3/2 E3/2 ||`);
    const supports = supportsOf(arranged(trio));
    expect(supports).toContain("1:3 G4 3");
    expect(supports).toContain("2:2 F#4 1");
  });

  test("in the melody's rests too, and no longer than it is sung there", () => {
    const duet = ensembleFromText(`${HEAD}

part: Treble
E4/4 r/2. | E4/1 ||

part: Low
r/4 A2/4 r/2 | C3/1 ||`);
    expect(supportsOf(arranged(duet))).toEqual(["1:2 A2 1", "2:1 C3 4"]);
  });

  test("with nothing added where nobody else sings, and that is the reason given", () => {
    const duet = ensembleFromText(`${HEAD}

part: Treble
E4/2 G4/2 ||

part: Low
C3/2 r/2 ||`);
    const { arrangement } = arranged(duet);
    expect(arrangement.events.map(({ attack, whySingle }) => [attack, whySingle])).toEqual([
      ["struck", undefined],
      ["single", "no-voice"],
    ]);
  });

  test("a voice that crosses over the tune is taken below it or left out", () => {
    const duet = ensembleFromText(`${HEAD}

part: Treble
E4/1"Oh" ||

part: Middle
G4/1 ||

part: Low
C3/1 ||`);
    const { arrangement } = arranged(duet);
    expect(Math.max(...arrangement.supports.map(({ midi }) => midi))).toBeLessThan(64);
    expect(arrangement.supports.map(({ midi }) => midi % 12)).toContain(0);
  });
});

describe("What is left out of the voices", () => {
  const over = (low: string) =>
    ensembleFromText(`${HEAD}\n\npart: Treble\nE4/1 ||\n\npart: Low\n${low}/1 ||`);
  const withoutLowStrings = (low: string) =>
    arranged(over(low), [{ measures: [1, 1], avoid: { strings: [3, 4, 5, 6] } }]).report;

  test("is nothing where all of it is played", () => {
    expect(arranged(over("E2")).report.events[0]?.voicesLeftOut).toBeUndefined();
  });

  test("is said with its voice, and whether its tone sounds all the same", () => {
    const doubled = withoutLowStrings("E2");
    expect(doubled.events[0]?.voicesLeftOut).toEqual([{ voice: "Low", pitch: "E2", toneSounds: true }]);
    const missing = withoutLowStrings("G2");
    expect(missing.events[0]?.voicesLeftOut).toEqual([{ voice: "Low", pitch: "G2", toneSounds: false }]);
  });

  test("stands in the report in words", () => {
    const report = withoutLowStrings("G2");
    const text = textReport(report);
    expect(text).toContain("Voices left out: at 1 of 1 moments; at 1 of these a tone is missing");
    expect(text).toContain("G2 of Low");
    expect(explanationLines(report).join("\n")).toContain("Without G2 of Low (its tone is missing).");
  });
});

describe("Whatever the voices sing", () => {
  const PITCHES = ["C", "D", "E", "F", "G", "A", "B"];
  const line = (octave: number) =>
    fc
      .array(fc.tuple(fc.constantFrom("r", ...PITCHES), fc.constantFrom("4", "2")), {
        minLength: 3,
        maxLength: 5,
      })
      .map((notes) =>
        barsOf(
          notes.map(([name, value]) => ({ name, value })),
          octave,
        ),
      );

  /** Fills two bars of 4/4; a half note that does not fit becomes a quarter. */
  function barsOf(notes: readonly { name: string; value: string }[], octave: number): string {
    const words: string[] = [];
    for (let quarter = 0, at = 0; quarter < 8; at += 1) {
      const { name, value } = notes[at % notes.length] ?? { name: "C", value: "4" };
      const isHalf = value === "2" && quarter % 4 < 3;
      words.push(`${name === "r" ? "r" : `${name}${octave}`}/${isHalf ? 2 : 4}`);
      quarter += isHalf ? 2 : 1;
      if (quarter === 4) words.push("|");
    }
    return `${words.join(" ")} ||`;
  }

  test("nothing sounds that nobody sings, no voice crosses another, and the tune stays on top", () => {
    fc.assert(
      fc.property(line(4), line(4), line(3), (treble, middle, low) => {
        // The tune begins with a note, and so does the lowest voice.
        const xml = ensembleFromText(
          `${HEAD}\n\npart: Treble\n${treble.replace(/^r/, "E4")}\n\npart: Middle\n${middle}\n\npart: Low\n${low.replace(/^r/, "A3")}`,
        );
        const one = arranged(xml, [], { melody: "Treble" });
        const { foreign, crossings } = keptOf(one);
        expect([foreign, crossings]).toEqual([[], []]);
        for (const note of one.sheet.tune.melody)
          for (const { onset, end, midi } of one.arrangement.supports)
            if (onset < note.onset + note.length && end > note.onset)
              expect(midi).toBeLessThan(note.midi + one.arrangement.transposition.semitones);
      }),
      { numRuns: 25 },
    );
  });
});

describe("A player's wishes in an ensemble", () => {
  const quay = readFileSync("sample-scores/lamps-along-the-quay.musicxml", "utf8");

  test("keep a string out of it", () => {
    const { arrangement } = arranged(quay, [{ measures: [1, 8], avoid: { strings: [6] } }]);
    expect(arrangement.supports.some(({ string }) => string === 6)).toBe(false);
  });

  test("may ask for the voices in some measures only", () => {
    const one = arranged(quay, [{ measures: [3, 4], texture: "voices" }], { texture: "fluent" });
    const { start } = one.sheet.tune.measures[2] ?? { start: 0 };
    const { start: end } = one.sheet.tune.measures[4] ?? { start: 0 };
    const { foreign } = keptOf(one);
    expect(foreign.filter((tick) => tick >= start && tick < end)).toEqual([]);
  });

  test("are refused where there are no voices to sing them", () => {
    const single = leadSheetFromText(`${HEAD}\n\n[C] E4/4 G4/4 C5/2 ||`);
    expect(() => arranged(single)).toThrow(ScoreError);
    expect(() => arranged(single)).toThrow("one line only");
  });
});

test("an arrangement of voices that comes back is the same when it is arranged again", () => {
  const quay = readFileSync("sample-scores/lamps-along-the-quay.musicxml", "utf8");
  const first = arranged(quay);
  const again = arrangeScore(first.document, completeOptions({}), new Findings());
  expect(again.arrangement.supports).toEqual(first.arrangement.supports);
});

test("the survey of keys says what is kept of an ensemble in each", () => {
  const trio = ensembleFromText(`${HEAD}

part: Treble
E4/2 D4/2 | C4/1 ||

part: Low
C3/2 G2/2 | C2/1 ||`);
  const document = readScore(new TextEncoder().encode(trio), new Findings());
  const { keys } = surveyKeys(document, completeOptions({ texture: "voices" }), new Findings());
  const places = keys.flatMap((entry) => entry.places);
  expect(places.length).toBeGreaterThan(0);
  for (const { ensemble } of places) expect(ensemble?.bassKept).toBeGreaterThan(0.5);
  // C3, G2 and C2: as written the last lies under the low E; an octave and more higher all are there.
  const lost = new Map(places.map(({ semitones, ensemble }) => [semitones, ensemble]));
  expect(lost.get(0)).toMatchObject({ bassNotes: 3, bassOutOfReach: 1 });
  expect(lost.get(-5)).toMatchObject({ bassNotes: 3, bassOutOfReach: 2 });
  expect(lost.get(12)).toMatchObject({ bassNotes: 3, bassOutOfReach: 0 });
  expect(keysLines({ key: "C major", keys, findings: [] }).join("\n")).toContain("1 of 3");
  const plain = surveyKeys(document, completeOptions({ chords: "voices" }), new Findings());
  for (const place of plain.keys.flatMap((entry) => entry.places)) expect(place.ensemble).toBeUndefined();
});

import { describe, expect, test } from "vitest";
import { struckStrings } from "../../src/arrangement/plucked-strings.js";
import {
  type Arranged,
  type ArrangeOptions,
  arrangeScore,
  completeOptions,
  Findings,
  readScore,
  surveyKeys,
} from "../../src/index.js";
import { pitchText } from "../../src/song/pitch.js";
import { childNamed, childrenNamed, childText } from "../../src/xml/xml-tree.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";

function arranged(tune: string, options: Partial<ArrangeOptions>): Arranged {
  const xml = leadSheetFromText(`title: Under the Stairs\nkey: 0 major\ntime: 4/4\ntempo: 80\n\n${tune}`);
  const document = readScore(new TextEncoder().encode(xml), new Findings());
  return arrangeScore(document, completeOptions({ alternatives: 0, ...options }), new Findings());
}

/** "1:1 C3" for each bass note: bar, beat, pitch. */
const bassOf = ({ arrangement, sheet }: Arranged): readonly string[] =>
  arrangement.supports
    .filter(({ isBassLine }) => isBassLine === true)
    .map(({ onset, pitch }) => {
      const quarters = onset / sheet.tune.ticksPerQuarter;
      return `${Math.floor(quarters / 4) + 1}:${(quarters % 4) + 1} ${pitchText(pitch)}`;
    });

const TUNE = "[C] E4/2 G4/2 | [F] A4/2 C5/2 | [G7] B4/2 D5/2 | [C] C5/1 ||";

describe("A bass under a chord melody", () => {
  test("is not there unless it is asked for", () => {
    expect(bassOf(arranged(TUNE, {}))).toEqual([]);
  });

  test("has the root at every chord change", () => {
    const bass = bassOf(arranged(TUNE, { bass: "roots" }));
    const names = bass.map((note) => note.slice(0, -1));
    expect(names.filter((note) => note.includes(":1 "))).toEqual(["1:1 C", "2:1 F", "3:1 G", "4:1 C"]);
    // Struck again or not, it is the root all along.
    expect(new Set(names.map((note) => note.replace(/:\S+/, "")))).toEqual(
      new Set(["1 C", "2 F", "3 G", "4 C"]),
    );
  });

  test("has the bass that the chord symbol names", () => {
    const bass = bassOf(arranged("[C/E] G4/1 | [F] A4/1 ||", { bass: "roots" }));
    expect(bass.map((note) => note.slice(0, -1))).toEqual(["1:1 E", "2:1 F"]);
  });

  test("goes between root and fifth by turns", () => {
    const bass = bassOf(arranged("[C] E4/2 G4/2 | [G] B4/2 D5/2 ||", { bass: "fifths" }));
    expect(bass.map((note) => note.slice(0, -1))).toEqual(["1:1 C", "1:3 G", "2:1 G", "2:3 D"]);
  });

  test("is a bass where a chord tone over it has the same pitch, too", () => {
    const bass = bassOf(arranged("[G7] C4/2. r/4 | [C] E4/1 ||", { bass: "fifths" }));
    expect(bass.slice(0, 2)).toEqual(["1:1 G2", "1:3 D3"]);
  });

  test("walks a beat at a time, and comes to each new root by a semitone", () => {
    const { arrangement } = arranged(`${TUNE}`, { bass: "walking" });
    const bass = arrangement.supports.filter(({ isBassLine }) => isBassLine === true);
    const changes = bass.filter(({ onset }) => arrangement.events.some((one) => one.onset === onset));
    expect(changes.length).toBeGreaterThan(8);
    const roots = [5, 7, 0];
    roots.forEach((root, index) => {
      const barline = bass.findIndex(
        ({ onset, midi }) => onset === onsetOfBar(arrangement, index + 1) && midi % 12 === root,
      );
      const before = bass[barline - 1];
      expect(barline).toBeGreaterThan(0);
      expect([1, 11]).toContain(((before?.midi ?? 0) - root + 24) % 12);
    });
  });

  const onsetOfBar = ({ events }: Arranged["arrangement"], bar: number): number =>
    events.filter(({ chord }) => chord === bar)[0]?.onset ?? -1;

  test("stays on the three lowest strings, under the melody", () => {
    for (const bass of ["roots", "fifths", "walking"] as const) {
      const { arrangement } = arranged(TUNE, { bass });
      for (const note of arrangement.supports)
        if (note.isBassLine === true) expect(note.string).toBeGreaterThanOrEqual(4);
    }
  });

  test("goes down to a string that is tuned lower", () => {
    const low = arranged("[D] F#4/1 ||", { bass: "roots", tuning: "D2 A2 D3 G3 B3 E4" });
    const [note] = low.arrangement.supports.filter(({ isBassLine }) => isBassLine === true);
    expect([38, 50]).toContain(note?.midi);
    expect(low.arrangement.supports.every(({ midi }) => midi < 66)).toBe(true);
  });

  test("is written as a voice of its own, with its rests, stems down", () => {
    const { document } = arranged(TUNE, { bass: "roots" });
    const parts = childrenNamed(document.root, "part");
    const guitar = parts.at(-2);
    for (const measure of guitar === undefined ? [] : childrenNamed(guitar, "measure")) {
      const lower = childrenNamed(measure, "note").filter((note) => childText(note, "voice") === "2");
      const whole = childrenNamed(measure, "note")
        .filter((note) => childText(note, "voice") === "1" && childNamed(note, "chord") === undefined)
        .reduce((sum, note) => sum + Number(childText(note, "duration")), 0);
      const filled = lower
        .filter((note) => childNamed(note, "chord") === undefined)
        .reduce((sum, note) => sum + Number(childText(note, "duration")), 0);
      expect(filled).toBe(whole);
      for (const note of lower) if (childNamed(note, "pitch")) expect(childText(note, "stem")).toBe("down");
    }
  });

  test("is the same when the score that came out is arranged again", () => {
    const first = arranged(TUNE, { bass: "fifths" });
    const again = arrangeScore(first.document, completeOptions({}), new Findings());
    expect(bassOf(again)).toEqual(bassOf(first));
  });
});

describe("The right hand over a bass", () => {
  /** Silent strings between those that are struck together, over the whole arrangement. */
  const skipped = ({ sheet, arrangement }: Arranged): number =>
    [...struckStrings(sheet.tune, arrangement).values()].reduce(
      (sum, strings) => sum + (strings[0] ?? 0) - (strings.at(-1) ?? 0) + 1 - strings.length,
      0,
    );

  test("with a pick skips fewer strings than fingers do", () => {
    const [pick, fingers] = (["pick", "fingers"] as const).map((rightHand) =>
      skipped(arranged(TUNE, { bass: "roots", rightHand })),
    );
    expect(pick).toBeLessThan(fingers ?? 0);
  });

  test("has its fingers written where they are not obvious, and only where fingers were asked for", () => {
    const plucked = (rightHand: ArrangeOptions["rightHand"]) =>
      notesOf(arranged(TUNE, { bass: "roots", rightHand })).flatMap((note) => {
        const technical = childrenNamed(note, "notations").flatMap((one) => childrenNamed(one, "technical"));
        return technical.flatMap((one) => childText(one, "pluck") ?? []);
      });
    expect(plucked("either")).toEqual([]);
    expect(plucked("pick")).toEqual([]);
    expect(plucked("fingers")).toContain("p");
    for (const letter of plucked("fingers")) expect(["p", "i", "m", "a"]).toContain(letter);
  });

  test("is said of each moment: a finger for each string, or the strings that a brush damps", () => {
    for (const rightHand of ["fingers", "pick"] as const) {
      const one = arranged(TUNE, { bass: "roots", rightHand });
      const struck = [...struckStrings(one.sheet.tune, one.arrangement).values()];
      const chords = struck.filter((strings) => strings.length > 1);
      expect(chords.length).toBeGreaterThan(3);
      const { events } = one.report;
      if (rightHand === "fingers")
        expect(events.flatMap(({ plucked = [] }) => (plucked.length > 0 ? [plucked.length] : []))).toEqual(
          chords.map(({ length }) => length),
        );
      else
        for (const { damped = [], notes } of events)
          expect(notes.some(({ string }) => damped.includes(string))).toBe(false);
    }
  });
});

/** Every note of the guitar's notation. */
const notesOf = ({ document }: Arranged) =>
  childrenNamed(document.root, "part")
    .slice(-2, -1)
    .flatMap((part) => childrenNamed(part, "measure"))
    .flatMap((measure) => childrenNamed(measure, "note"));

test("the survey of keys says how much of the bass finds room under the melody", () => {
  const xml = leadSheetFromText(
    "title: Under the Stairs\nkey: 1 major\ntime: 4/4\ntempo: 80\n\n[D] D3/1 | [G] B3/1 ||",
  );
  const document = readScore(new TextEncoder().encode(xml), new Findings());
  const survey = (options: Partial<ArrangeOptions>) =>
    surveyKeys(document, completeOptions({ strings: "1-4", ...options }), new Findings());
  const ensembleAt = (moved: number) =>
    survey({ bass: "roots" })
      .keys.flatMap(({ places }) => places)
      .find(({ semitones }) => semitones === moved)?.ensemble;
  // Under D3 there is no D as low as the low E.
  expect(ensembleAt(0)).toMatchObject({ bassNotes: 2, bassOutOfReach: 1 });
  expect(ensembleAt(12)).toMatchObject({ bassNotes: 2, bassOutOfReach: 0, bassKept: 1 });
  expect(survey({}).keys.some(({ places }) => places.some(({ ensemble }) => ensemble))).toBe(false);
});

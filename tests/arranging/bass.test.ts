import { describe, expect, test } from "vitest";
import {
  type Arranged,
  type ArrangeOptions,
  arrangeScore,
  completeOptions,
  Findings,
  readScore,
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
    expect(bass.map((note) => note.slice(0, -1))).toEqual(["1:1 C", "2:1 F", "3:1 G", "4:1 C"]);
  });

  test("has the bass that the chord symbol names", () => {
    const bass = bassOf(arranged("[C/E] G4/1 | [F] A4/1 ||", { bass: "roots" }));
    expect(bass.map((note) => note.slice(0, -1))).toEqual(["1:1 E", "2:1 F"]);
  });

  test("goes between root and fifth by turns", () => {
    const bass = bassOf(arranged("[C] E4/2 G4/2 | [G] B4/2 D5/2 ||", { bass: "fifths" }));
    expect(bass.map((note) => note.slice(0, -1))).toEqual(["1:1 C", "1:3 G", "2:1 G", "2:3 D"]);
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

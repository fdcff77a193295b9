import { expect, test, vi } from "vitest";
import { parseXml } from "../../src/xml/parse-xml.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { again, made, madeFrom } from "./edited.js";
import {
  addToChord,
  bareNote,
  changeNote,
  inTurn,
  strikeAlone,
  withPitch,
  withPlace,
} from "./score-changes.js";

vi.mock("../../src/arranging/costs/cost-table.js", async (original) =>
  (await import("./plain-costs.js")).withPlainCosts(original),
);

const TUNE = leadSheetFromText(`title: Sand in the Hinges
key: 0 major
time: 4/4
tempo: 90

[C] E5/2 r/2 | [F] A5/4. r/8 r/2 | [G7] B4/4 r/4 D5/4. r/8 | [C] C5/2. r/4 | [Am] r/4 C5/4 r/4 E5/4 | [Dm7] r/2 F5/2 | [G7] r/2. G5/8 r/8 | [C] E5/1 ||`);

test.each(["roots", "fifths", "walking"])(
  "where a measure of a tune with a bass (%s) was arranged anew, all of it stays as it came after that",
  (bass) => {
    for (const rests of ["silent", "struck"]) {
      const first = made(parseXml(TUNE), { bass, rests });
      const changed = parseXml(first.text.replace(/<step>A<\/step>/, "<step>G</step>"));
      const anew = made(changed);
      expect(anew.said).toContainEqual(expect.stringMatching(/^arranged-anew 2/));
      const back = again(anew, (root) => root);
      expect(back.said, rests).toEqual([]);
      expect(back.text, rests).toBe(anew.text);
    }
  },
);

test("a bass asked for last is there, whether the player's changes go with it or not, and stays", () => {
  const written = madeFrom({});
  const changes = [
    changeNote(["P3", 7, 1, "4/5"], withPlace(4, 7)),
    inTurn(strikeAlone("P2", 4, 2, 2, bareNote("A2")), strikeAlone("P3", 4, 2, 2, bareNote("A2", [5, 0]))),
    inTurn(strikeAlone("P2", 6, 2, 1, bareNote("F3")), strikeAlone("P3", 6, 2, 1, bareNote("F3", [4, 3]))),
  ];
  for (const change of changes) {
    const withBass = again(written, change, { bass: "walking" });
    expect(withBass.text).toContain('"bass":"walking"');
    expect(again(withBass, (root) => root).text).toBe(withBass.text);
  }
});

test("a bass stays a voice of its own where the player adds a note to the chord over it", () => {
  const written = made(parseXml(TUNE), { bass: "roots" });
  const withNote = again(
    written,
    inTurn(
      addToChord(["P2", 8, 1, "E4"], withPitch("F#3")),
      addToChord(["P3", 8, 1, "2/5"], withPlace(4, 4)),
    ),
  );
  expect(withNote.come.map((attack) => attack.replace(/-\d$/, ""))).toContain("8:1 4 54 4/4");
  const bassOf = ({ arrangement }: typeof written) =>
    arrangement.supports.filter(({ isBassLine }) => isBassLine === true).map(({ midi }) => midi);
  expect(bassOf(withNote)).toEqual(bassOf(written));
  const measure = withNote.text.split('<measure number="8"')[2] ?? "";
  expect(measure).toMatch(
    /<step>C<\/step>\s*<octave>3<\/octave>\s*<\/pitch>\s*<duration>\d+<\/duration>\s*<voice>2</,
  );
  expect(again(withNote, (root) => root).text).toBe(withNote.text);
});

test("an edit is said to be kept where it is in the guitar part that comes, and lost where it is not", () => {
  const written = madeFrom({});
  const struck = (measure: number, beat: number, length: number, pitch: string, place: [number, number]) =>
    inTurn(
      strikeAlone("P2", measure, beat, length, bareNote(pitch)),
      strikeAlone("P3", measure, beat, length, bareNote(pitch, place)),
    );
  const changes = [
    [changeNote(["P3", 7, 1, "4/5"], withPlace(4, 7))],
    [struck(4, 2, 2, "A2", [5, 0])],
    [struck(6, 2, 1, "F3", [4, 3])],
    [changeNote(["P3", 7, 1, "4/5"], withPlace(4, 7)), struck(6, 2, 1, "F3", [4, 3])],
    [struck(4, 2, 2, "A2", [5, 0]), struck(5, 3, 1, "C3", [5, 3])],
  ];
  let lost = 0;
  for (const edits of changes)
    for (const options of [{ bass: "walking" }, { bass: "roots" }, { bass: "fifths" }, { texture: "full" }]) {
      const back = again(written, inTurn(...edits), options);
      const rules = back.report.findings.filter(
        ({ rule }) => rule === "edit-kept" || rule === "edit-impossible",
      );
      expect(rules.length).toBeGreaterThanOrEqual(edits.length);
      for (const { rule, place, found } of rules) {
        if (rule === "edit-impossible") lost += 1;
        // What no hand can hold is named by its pitches.
        if (!found.includes("string")) continue;
        const attacks = back.attacks.filter((attack) => attack.startsWith(`${place.measure}:${place.beat} `));
        // The note of the melody may ring on from before.
        const struckThere = gripIn(found)
          .slice(0, found.includes(",") ? -1 : undefined)
          .filter(({ isHeld }) => !isHeld);
        const isThere = struckThere.every(({ string, fret }) =>
          attacks.some((attack) => attack.includes(` ${string}/${fret}-`)),
        );
        expect({ options, rule, found, isThere }).toEqual({
          options,
          rule,
          found,
          isThere: rule === "edit-kept",
        });
      }
    }
  expect(lost).toBeGreaterThan(0);
});

/** The strings of a grip as a finding names it. */
const gripIn = (text: string) =>
  [...text.matchAll(/(held )?(?:open string (\d)|string (\d) fret (\d+))/g)].map(
    ([, held, open, string, fret]) => ({
      isHeld: held !== undefined,
      string: Number(open ?? string),
      fret: Number(fret ?? 0),
    }),
  );

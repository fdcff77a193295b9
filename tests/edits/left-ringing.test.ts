import { describe, expect, test } from "vitest";
import { byOnset, melodyRingsUntil } from "../../src/arrangement/played-notes.js";
import { Findings } from "../../src/diagnostics.js";
import { returnedNotes } from "../../src/edits/guitar-part-notes.js";
import { type LeftRinging, leftRinging } from "../../src/edits/left-ringing.js";
import { readGuitarScore } from "../../src/musicxml/guitar-reading/read-guitar-part.js";
import type { WishesFile } from "../../src/wishes/wishes-file.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import {
  attributeOf,
  element,
  everyNamed,
  withChildren,
  withElements,
  type XmlDocument,
} from "../../src/xml/xml-tree.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { type Again, again as againWith, type Made, made as madeWith } from "./edited.js";
import {
  bareNote,
  type Change,
  changeNote,
  everyNote,
  inTurn,
  strikeAlone,
  withPitch,
  withPlace,
  withTechnical,
} from "./score-changes.js";

const TUNE = leadSheetFromText(`title: Up the Ladder Again
key: 0 major
time: 4/4
tempo: 100

[C] G4/4 C5/4 A4/4 G4/4 | [F] C5/2 A4/2 | [C] G4/4 C5/4 A4/4 G4/4 | [G7] B4/2 D5/2 | [C] C5/1 ||`);

const TWO_IN_A_MEASURE = leadSheetFromText(`title: Twice Up the Ladder
key: 0 major
time: 8/4
tempo: 100

[C] G4/4 C5/4 A4/4 G4/4 G4/4 C5/4 A4/4 G4/4 | [C] C5/1 ||`);

const OVER_THE_BARLINE = leadSheetFromText(`title: A Rung Between
key: 0 major
time: 4/4
tempo: 200

[G7] B4/2 [C] G4/2~ | G4/4 C5/4 A4/4 G4/4 | [C] G4/4 C5/4 A4/4 G4/4 | C5/1 ||`);

/** Triads: under a full chord no finger has a string to leave the melody on. */
const TRIADS = { notes: "3" };

const made = (document: XmlDocument, options: object = {}, wishes?: WishesFile): Made =>
  madeWith(document, { ...TRIADS, ...options }, wishes);
const again = (before: Made, change: Change, options: object = {}): Again =>
  againWith(before, change, { ...TRIADS, ...options });

const written: Made = made(parseXml(TUNE));

/** The ties of a score that lead to no note. */
const ties = ({ text }: Made): number =>
  everyNamed(parseXml(text).root, "tied").filter((tied) => attributeOf(tied, "type") === "let-ring").length;

/** Melody notes that ring on in an arrangement. */
const left = ({ arrangement }: Made): readonly number[] =>
  arrangement.supports.flatMap(({ leftByMelody }) => leftByMelody ?? []);

const withoutTie: Parameters<typeof changeNote>[1] = (note) =>
  withElements(note, (child) =>
    child.name !== "notations"
      ? child
      : withElements(child, (mark) =>
          mark.name === "tied" && attributeOf(mark, "type") === "let-ring" ? undefined : mark,
        ),
  );

const withTie =
  (id: string): Parameters<typeof changeNote>[1] =>
  (note) =>
    withElements(note, (child) =>
      child.name === "notations"
        ? withChildren(child, [...child.children, element("tied", { type: "let-ring", id })])
        : child,
    );

/** Away on both staves: from the G on the first beat of a measure. */
const tieTakenFrom = (measure: number): Change =>
  inTurn(changeNote(["P2", measure, 1, "G4"], withoutTie), changeNote(["P3", measure, 1, "2/8"], withoutTie));

const withoutIds = (text: string): string => text.replaceAll(/ id="[^"]*-rings-on[^"]*"/g, "");

/** What rings on of a score that came back, where what is arranged afresh knows nothing of it. */
function ringsIn(text: string, mayBeWritten: boolean): LeftRinging {
  const { arrangement, sheet } = written;
  const score = readGuitarScore(parseXml(text).root, { melody: "auto" }, new Findings());
  const returned = byOnset(returnedNotes(score, sheet.tune, arrangement.instrument));
  const supports = arrangement.supports.filter(({ leftByMelody }) => leftByMelody === undefined);
  return leftRinging({ ...arrangement, supports }, sheet.tune, returned, () =>
    mayBeWritten ? Number.POSITIVE_INFINITY : 0,
  );
}

describe("Melody notes that ring on", () => {
  test("have their ties, three on each staff", () => {
    expect(left(written)).toEqual([0, 6, 10]);
    expect(ties(written)).toBe(6);
  });

  test.each([{}, { lead: "drop" }, { staves: "joined" }, { staves: "tab" }, { staves: "tab", lead: "drop" }])(
    "come back as they went where nothing was changed: %j",
    (options) => {
      const before = made(parseXml(TUNE), options);
      const after = again(before, (root) => root);
      expect(left(before)).toEqual([0, 6, 10]);
      expect(after.text).toBe(before.text);
      expect(after.said).toEqual([]);
    },
  );

  test("come back as they went where their ties have lost their ids", () => {
    expect(withoutIds(written.text)).not.toBe(written.text);
    const after = made(parseXml(withoutIds(written.text)));
    expect(after.text).toBe(written.text);
    expect(after.said).toEqual([]);
  });

  test("ring on no more where the player took the tie away, and the others do", () => {
    const after = again(written, tieTakenFrom(1));
    expect(left(after)).toEqual([6, 10]);
    expect(ties(after)).toBe(4);
    expect(after.said).toEqual(["edit-kept 1:2"]);
    // The chord that rang with it is as it was.
    expect(after.attacks).toEqual(written.attacks);
    expect(again(after, (root) => root).text).toBe(after.text);
  });

  test("leave no tie behind where the guitar part is the lead sheet as well", () => {
    const before = made(parseXml(TUNE), { lead: "drop" });
    const taken = inTurn(
      changeNote(["P1", 1, 1, "G4"], withoutTie),
      changeNote(["P2", 1, 1, "2/8"], withoutTie),
    );
    const after = again(before, taken);
    expect([left(after), ties(after)]).toEqual([[6, 10], 4]);
    expect(again(after, (root) => root).text).toBe(after.text);
  });

  test.each([{ texture: "full" }, { edits: "discard", texture: "full" }])(
    "leave no tie behind there where another arrangement is asked for: %j",
    (options) => {
      const before = made(parseXml(TUNE), { lead: "drop" });
      const after = again(before, (root) => root, options);
      expect([left(after), ties(after)]).toEqual([[], 0]);
    },
  );

  test("ring on where something else is changed", () => {
    const after = again(written, changeNote(["P2", 4, 1, "B4"], withTechnical({ fingering: 2 })));
    expect(after.text).not.toBe(written.text);
    expect(left(after)).toEqual([0, 6, 10]);
    expect(ties(after)).toBe(6);
  });

  test("ring on no more where another note takes their string", () => {
    const after = again(written, changeNote(["P3", 1, 2, "1/8"], withPlace(2, 13)));
    expect(left(after)).toEqual([6, 10]);
    expect(after.arrangement.melody[1]).toMatchObject({ string: 2, fret: 13 });
    expect(again(after, (root) => root).text).toBe(after.text);
  });

  test("ring on under what a player strikes beside them", () => {
    const bass = inTurn(
      strikeAlone("P2", 1, 2, 1, bareNote("C3")),
      strikeAlone("P3", 1, 2, 1, bareNote("C3", [6, 8])),
    );
    const after = again(written, bass);
    expect(left(after)).toEqual([0, 6, 10]);
    const { events, supports } = after.arrangement;
    expect(events[1]?.supports.map((index) => supports[index]?.midi)).toEqual([48, 60, 64, 67]);
    expect(again(after, (root) => root).text).toBe(after.text);
  });

  test("are no edits where a program knows no such ties", () => {
    const after = again(written, everyNote(withoutTie));
    expect(ties(after)).toBe(0);
    expect(after.attacks).toEqual(written.attacks);
    expect(after.said).toEqual([]);
    expect(again(after, (root) => root).text).toBe(after.text);
  });

  test("go with what they hang on where the tune is changed under them", () => {
    const lower = inTurn(changeNote(["P1", 1, 2, "C5"], withPitch("F4")));
    const after = again(written, lower);
    expect(left(after)).toEqual([6, 10]);
    expect(after.sheet.tune.melody[1]?.midi).toBe(65);
  });

  test.each([
    ["as long as their ties say", (text: string) => text],
    ["as long as the chord under them where those say nothing", withoutIds],
  ])("ring %s, whatever is arranged afresh: an edit stood beside them", (_, after) => {
    const { arrangement, text } = written;
    const rings = ringsIn(after(text), true);
    for (const [index, place] of arrangement.melody.entries()) {
      const until = melodyRingsUntil(arrangement).get(index);
      expect(place && rings.until(index, place)).toBe(until);
      expect(rings.writtenUntil(index)).toBe(until ?? 0);
    }
  });

  test("are marks of the player's where no such tie was written: those ring as little as before", () => {
    const { arrangement, text } = written;
    const rings = ringsIn(withoutIds(text), false);
    for (const [index, place] of arrangement.melody.entries())
      expect(place && rings.until(index, place)).toBeUndefined();
  });

  test("are not taken away where wishes had left them out", () => {
    const wishes = { wishes: [{ measure: 1, beat: 2, play: "single" as const }] };
    const document = parseXml(TUNE);
    const asked = made(document, {}, wishes);
    expect(left(asked)).toEqual([6, 10]);
    const after = again(asked, (root) => root);
    expect(after.text).toBe(asked.text);
    expect(after.said).toEqual([]);
  });

  test("are not taken away where wishes had left out one of two in a measure", () => {
    const wishes = { wishes: [{ measure: 1, beat: 2, play: "single" as const }] };
    const document = parseXml(TWO_IN_A_MEASURE);
    expect(left(made(document))).toEqual([0, 4]);
    const asked = made(document, {}, wishes);
    expect(left(asked)).toEqual([4]);
    const after = again(asked, (root) => root);
    expect(after.text).toBe(asked.text);
    expect(after.said).toEqual([]);
  });

  test("ring on no more where the player took the tie from the end of a note tied over the barline", () => {
    const before = made(parseXml(OVER_THE_BARLINE));
    expect(left(before)).toEqual([1, 5]);
    const after = again(
      before,
      inTurn(changeNote(["P2", 2, 1, "G4"], withoutTie), changeNote(["P3", 2, 1, "2/8"], withoutTie)),
    );
    expect(left(after)).toEqual([5]);
    expect(after.said).toEqual(["edit-kept 2:2"]);
    expect(again(after, (root) => root).text).toBe(after.text);
  });

  test("leave no tie on a TAB alone that was copied to a note which does not ring on", () => {
    const wishes = { wishes: [{ measure: 1, beat: 2, play: "single" as const }] };
    const asked = made(parseXml(TUNE), {}, wishes);
    const copied = changeNote(["P3", 1, 1, "2/8"], withTie("P3m3v1n1-rings-on-1-1"));
    const after = again(asked, copied, { staves: "tab" });
    expect([left(after), ties(after)]).toEqual([[6, 10], 2]);
    expect(again(after, (root) => root).text).toBe(after.text);
  });
});

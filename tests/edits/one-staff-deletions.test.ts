import { describe, expect, test, vi } from "vitest";
import { element, withElements } from "../../src/xml/xml-tree.js";
import { again, type Made, madeFrom } from "./edited.js";
import {
  addToChord,
  type Change,
  changeHarmony,
  changeNote,
  deleteNote,
  inTurn,
  withPitch,
  withPlace,
} from "./score-changes.js";

vi.mock("../../src/arranging/costs/cost-table.js", async (original) =>
  (await import("./plain-costs.js")).withPlainCosts(original),
);

/** Lead sheet P1, notation P2, TAB P3. */
const written: Made = madeFrom({});

/** What the tune becomes meanwhile, each beside moments of its measure that it leaves as they are. */
const tuneChanges: readonly (readonly [measure: number, what: string, change: Change])[] = [
  [2, "its last note a third higher", changeNote(["P1", 2, 4, "C5"], withPitch("E5"))],
  [3, "its last note a rest", changeNote(["P1", 3, 4, "G4"], silent)],
  [3, "its first note a third higher", changeNote(["P1", 3, 1, "C5"], withPitch("E5"))],
  [4, "another chord at its end", changeHarmony("P1", 4, 1, "D", "major")],
  [7, "its last note a third higher", changeNote(["P1", 7, 3, "C5"], withPitch("E5"))],
];

function silent(note: Parameters<typeof withElements>[0]) {
  return withElements(note, (child) => (child.name === "pitch" ? element("rest") : child));
}

/** The supporting notes of a measure, each as it is found in the notation and in the TAB. */
function supportsIn(measure: number) {
  const attacks = written.attacks.map((attack) => {
    const [, at, beat, midi, place] = /^(\d+):(\S+) \S+ (\d+) (\d+\/\d+)/.exec(attack) ?? [];
    return { measure: Number(at), beat: Number(beat), midi: Number(midi), place: place ?? "" };
  });
  return attacks
    .filter((one) => one.measure === measure)
    .filter((one) =>
      attacks.some((top) => top.measure === one.measure && top.beat === one.beat && top.midi > one.midi),
    );
}

const SHARP = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"];
const nameOf = (midi: number): string => `${SHARP[midi % 12]}${Math.floor(midi / 12) - 1}`;

describe.each(tuneChanges)(
  "a note deleted on one staff of measure %i, which the lead sheet gives %s",
  (measure, _, change) => {
    test.each(supportsIn(measure))("$beat: $place", ({ beat, midi, place }) => {
      const inNotation = deleteNote(["P2", measure, beat, nameOf(midi)]);
      const inTab = deleteNote(["P3", measure, beat, place]);
      const onBoth = again(written, inTurn(inNotation, inTab, change));
      for (const onOne of [inNotation, inTab]) {
        const back = again(written, inTurn(onOne, change));
        expect(back.attacks).toEqual(onBoth.attacks);
        expect(back.said).toEqual(onBoth.said);
      }
    });
  },
);

describe("a note added on one staff of a measure whose tune changes is added", () => {
  const higherEnd = changeNote(["P1", 7, 3, "C5"], withPitch("E5"));
  const otherEnd = changeHarmony("P1", 4, 1, "D", "major");
  const added = [
    {
      at: "7:1",
      inNotation: addToChord(["P2", 7, 1, "E4"], withPitch("D3")),
      inTab: addToChord(["P3", 7, 1, "2/5"], withPlace(5, 5)),
      change: higherEnd,
    },
    {
      at: "4:1",
      inNotation: addToChord(["P2", 4, 1, "D4"], withPitch("C3")),
      inTab: addToChord(["P3", 4, 1, "2/3"], withPlace(5, 3)),
      change: otherEnd,
    },
  ];
  test.each(added)("at $at", ({ at, inNotation, inTab, change }) => {
    const onBoth = again(written, inTurn(inNotation, inTab, change));
    expect(onBoth.said).toContain(`edit-kept ${at}`);
    for (const onOne of [inNotation, inTab])
      expect(again(written, inTurn(onOne, change)).attacks).toEqual(onBoth.attacks);
  });

  test("also beside one that is deleted there", () => {
    const [, { inTab, change } = { inTab: otherEnd, change: otherEnd }] = added;
    const deleted = deleteNote(["P2", 4, 1, "C4"]);
    const onBoth = inTurn(deleted, deleteNote(["P3", 4, 1, "3/5"]));
    expect(again(written, inTurn(deleted, inTab, change)).attacks).toEqual(
      again(written, inTurn(onBoth, inTab, change)).attacks,
    );
  });
});

import { describe, expect, test, vi } from "vitest";
import { again, type Made, madeFrom } from "./edited.js";
import {
  addToChord,
  bareNote,
  type Change,
  changeHarmony,
  changeNote,
  deleteNote,
  inTurn,
  strikeAlone,
  withPitch,
  withPlace,
  withTechnical,
} from "./score-changes.js";

vi.mock("../../src/arranging/costs/cost-table.js", async (original) =>
  (await import("./plain-costs.js")).withPlainCosts(original),
);

/** Lead sheet P1, notation P2, TAB P3. */
const written: Made = madeFrom({});

test("what was written is the score that the edits below speak of", () => {
  expect(written.attacks).toMatchInlineSnapshot(`
    [
      "1:1 1 67 2/8-1",
      "2:1 2 60 4/10-1",
      "2:1 2 67 3/12-3",
      "2:1 2 76 1/12-4",
      "2:3 1 64 3/9-2",
      "2:3 1 67 2/8-1",
      "2:3 1 74 1/10-3",
      "2:4 1 64 3/9-2",
      "2:4 1 67 2/8-1",
      "2:4 1 72 1/8-1",
      "3:1 2 57 4/7-1",
      "3:1 2 62 3/7-1",
      "3:1 2 67 2/8-2",
      "3:1 2 72 1/8-3",
      "3:3 0.5 55 4/5-1",
      "3:3 0.5 60 3/5-1",
      "3:3 0.5 64 2/5-1",
      "3:3 0.5 71 1/7-3",
      "3:3.5 0.5 55 4/5-1",
      "3:3.5 0.5 60 3/5-1",
      "3:3.5 0.5 64 2/5-1",
      "3:3.5 0.5 69 1/5-1",
      "3:4 1 52 5/7-2",
      "3:4 1 57 4/7-3",
      "3:4 1 60 3/5-1",
      "3:4 1 67 2/8-4",
      "4:1 3 53 4/3-1",
      "4:1 3 60 3/5-3",
      "4:1 3 62 2/3-1",
      "4:1 3 69 1/5-4",
      "4:4 1 50 4/0-0",
      "4:4 1 55 3/0-0",
      "4:4 1 59 2/0-0",
      "4:4 1 65 1/1-1",
      "5:1 2 55 3/0-0",
      "5:1 2 60 2/1-1",
      "5:1 2 64 1/0-0",
      "5:4 1 60 3/5-3",
      "5:4 1 64 2/5-4",
      "5:4 1 67 1/3-1",
      "6:1 2 60 3/5-1",
      "6:1 2 65 2/6-2",
      "6:1 2 69 1/5-1",
      "6:3 2 55 4/5-1",
      "6:3 2 62 3/7-3",
      "6:3 2 65 2/6-2",
      "6:3 4 71 1/7-4",
      "7:1 2 55 4/5-1",
      "7:1 2 60 3/5-1",
      "7:1 2 64 2/5-1",
      "7:3 2 60 3/5-1",
      "7:3 2 64 2/5-1",
      "7:3 2 72 1/8-4",
    ]
  `);
});

test("an unedited score comes back byte for byte, and nothing is said", () => {
  const back = again(written, (root) => root);
  expect(back.text).toBe(written.text);
  expect(back.said).toEqual([]);
});

test("a note that no hand can strike while a chord rings is no moment of its own: the score is as before, and stays so", () => {
  const struck = inTurn(
    strikeAlone("P2", 6, 2, 1, bareNote("G3")),
    strikeAlone("P3", 6, 2, 1, bareNote("G3", [6, 15])),
  );
  const back = again(written, struck);
  expect(back.said).toEqual(["edit-impossible 6:2"]);
  expect(back.text).toBe(written.text);
  expect(again(back, (root) => root).text).toBe(back.text);
});

describe("an edit is kept, and nothing else moves", () => {
  interface Kept {
    readonly name: string;
    readonly change: Change;
    readonly gone: readonly string[];
    readonly come: readonly string[];
    readonly said: readonly string[];
  }
  const cases: readonly Kept[] = [
    {
      name: "a fret changed in the TAB: the place wins, the notation follows",
      change: changeNote(["P3", 7, 1, "4/5"], withPlace(4, 7)),
      gone: ["7:1 2 55 4/5-1"],
      come: ["7:1 2 57 4/7-3"],
      said: ["edit-kept 7:1"],
    },
    {
      name: "a fret changed in the TAB by a program that leaves the pitch beside it alone",
      change: changeNote(["P3", 7, 1, "4/5"], withTechnical({ fret: 7 })),
      gone: ["7:1 2 55 4/5-1"],
      come: ["7:1 2 57 4/7-3"],
      said: ["edit-kept 7:1"],
    },
    {
      name: "a note put on another string, with the fingers that this asks for",
      change: changeNote(["P3", 2, 3, "3/9"], withPlace(4, 14)),
      gone: ["2:3 1 64 3/9-2", "2:3 1 74 1/10-3"],
      come: ["2:3 1 64 4/14-4", "2:3 1 74 1/10-2"],
      said: ["edit-kept 2:3"],
    },
    {
      name: "the melody put on another string",
      change: changeNote(["P3", 1, 1, "2/8"], withPlace(3, 12)),
      gone: ["1:1 1 67 2/8-1"],
      come: ["1:1 1 67 3/12-1"],
      said: ["edit-kept 1:1"],
    },
    {
      name: "a pitch changed in the notation: the pitch wins, the TAB follows on the same string",
      change: changeNote(["P2", 6, 1, "C4"], withPitch("D4")),
      gone: ["6:1 2 60 3/5-1"],
      come: ["6:1 2 62 3/7-3"],
      said: ["edit-kept 6:1"],
    },
    {
      name: "a finger changed",
      change: changeNote(["P2", 5, 4, "C4"], withTechnical({ fingering: 2 })),
      gone: ["5:4 1 60 3/5-3"],
      come: ["5:4 1 60 3/5-2"],
      said: ["edit-kept 5:4"],
    },
    {
      name: "a finger changed that another one has to make room for",
      change: changeNote(["P2", 2, 4, "C5"], withTechnical({ fingering: 2 })),
      gone: ["2:4 1 64 3/9-2", "2:4 1 72 1/8-1"],
      come: ["2:4 1 64 3/9-3", "2:4 1 72 1/8-2"],
      said: ["edit-kept 2:4"],
    },
    {
      name: "a supporting note deleted on both staves",
      change: inTurn(deleteNote(["P2", 3, 1, "D4"]), deleteNote(["P3", 3, 1, "3/7"])),
      gone: ["3:1 2 62 3/7-1"],
      come: [],
      said: ["edit-kept 3:1"],
    },
    {
      name: "a supporting note deleted in the notation alone",
      change: deleteNote(["P2", 3, 1, "D4"]),
      gone: ["3:1 2 62 3/7-1"],
      come: [],
      said: ["edit-kept 3:1"],
    },
    {
      name: "a supporting note deleted in the TAB alone",
      change: deleteNote(["P3", 3, 1, "3/7"]),
      gone: ["3:1 2 62 3/7-1"],
      come: [],
      said: ["edit-kept 3:1"],
    },
    {
      name: "a supporting note added on both staves",
      change: inTurn(
        addToChord(["P2", 5, 1, "E4"], withPitch("E3")),
        addToChord(["P3", 5, 1, "1/0"], withPlace(4, 2)),
      ),
      gone: [],
      come: ["5:1 2 52 4/2-2"],
      said: ["edit-kept 5:1"],
    },
    {
      name: "a supporting note added in the TAB alone",
      change: addToChord(["P3", 5, 1, "1/0"], withPlace(5, 3)),
      gone: [],
      come: ["5:1 2 48 5/3-3"],
      said: ["edit-kept 5:1"],
    },
    {
      name: "a supporting note added in the notation alone",
      change: addToChord(["P2", 5, 1, "E4"], withPitch("E3")),
      gone: [],
      come: ["5:1 2 52 4/2-2"],
      said: ["edit-kept 5:1"],
    },
    {
      name: "a chord made a single note",
      change: inTurn(
        deleteNote(["P2", 2, 4, "E4"]),
        deleteNote(["P2", 2, 4, "G4"]),
        deleteNote(["P3", 2, 4, "3/9"]),
        deleteNote(["P3", 2, 4, "2/8"]),
      ),
      gone: ["2:4 1 64 3/9-2", "2:4 1 67 2/8-1"],
      come: [],
      said: ["edit-kept 2:4"],
    },
    {
      name: "a chord change under a held note taken away",
      change: inTurn(
        ...["G3", "C4", "E4"].map((pitch) => deleteNote(["P2", 7, 1, pitch])),
        ...["4/5", "3/5", "2/5"].map((place) => deleteNote(["P3", 7, 1, place])),
      ),
      gone: ["7:1 2 55 4/5-1", "7:1 2 60 3/5-1", "7:1 2 64 2/5-1"],
      come: [],
      said: ["edit-kept 7:1"],
    },
    {
      name: "a bass note struck in a rest of the tune",
      change: inTurn(
        strikeAlone("P2", 5, 3, 1, bareNote("C3")),
        strikeAlone("P3", 5, 3, 1, bareNote("C3", [5, 3])),
      ),
      gone: [],
      come: ["5:3 1 48 5/3-2"],
      said: ["edit-kept 5:3"],
    },
    {
      name: "a bass note struck while a melody note and its chord ring on, as long as they do",
      change: inTurn(
        strikeAlone("P2", 4, 2, 2, bareNote("A2")),
        strikeAlone("P3", 4, 2, 2, bareNote("A2", [5, 0])),
      ),
      gone: [],
      come: ["4:2 2 45 5/0-0"],
      said: ["edit-kept 4:2"],
    },
    {
      name: "the same bass note shorter: it rings until the next moment, and that is said",
      change: inTurn(
        strikeAlone("P2", 4, 2, 1, bareNote("A2")),
        strikeAlone("P3", 4, 2, 1, bareNote("A2", [5, 0])),
      ),
      gone: [],
      come: ["4:2 2 45 5/0-0"],
      said: ["edit-kept 4:2", "edit-length 4:2"],
    },
    {
      name: "pitch and fret changed against each other: the notation wins, with a warning",
      change: inTurn(
        changeNote(["P2", 6, 1, "C4"], withPitch("D4")),
        changeNote(["P3", 6, 1, "3/5"], withPlace(3, 4)),
      ),
      gone: ["6:1 2 60 3/5-1"],
      come: ["6:1 2 62 3/7-3"],
      said: ["edits-contradict 6:1", "edit-kept 6:1"],
    },
    {
      name: "pitch and fret changed alike, and the other fingers make room",
      change: inTurn(
        changeNote(["P2", 6, 1, "C4"], withPitch("B3")),
        changeNote(["P3", 6, 1, "3/5"], withPlace(3, 4)),
      ),
      gone: ["6:1 2 60 3/5-1", "6:1 2 65 2/6-2", "6:1 2 69 1/5-1"],
      come: ["6:1 2 59 3/4-1", "6:1 2 65 2/6-3", "6:1 2 69 1/5-2"],
      said: ["edit-kept 6:1"],
    },
    {
      name: "edits at two moments",
      change: inTurn(changeNote(["P3", 7, 1, "4/5"], withPlace(4, 7)), deleteNote(["P2", 3, 1, "D4"])),
      gone: ["3:1 2 62 3/7-1", "7:1 2 55 4/5-1"],
      come: ["7:1 2 57 4/7-3"],
      said: ["edit-kept 3:1", "edit-kept 7:1"],
    },
    {
      name: "a finger that no hand can put there: the note stays, and that is said",
      change: changeNote(["P2", 3, 1, "D4"], withTechnical({ fingering: 4 })),
      gone: [],
      come: [],
      said: ["edit-finger 3:1"],
    },
    {
      name: "a stretch that no hand can make: the grip from before, and that is said",
      change: changeNote(["P3", 2, 1, "4/10"], withPlace(5, 3)),
      gone: [],
      come: [],
      said: ["edit-impossible 2:1"],
    },
    {
      name: "two notes on one string: the grip from before, and that is said",
      change: changeNote(["P3", 3, 1, "2/8"], withPlace(3, 12)),
      gone: [],
      come: [],
      said: ["edit-impossible 3:1"],
    },
    {
      name: "a note above the melody: the grip from before, and that is said",
      change: inTurn(
        addToChord(["P2", 7, 3, "C5"], withPitch("D5")),
        changeNote(["P3", 7, 3, "2/5"], withPlace(2, 15)),
      ),
      gone: [],
      come: [],
      said: ["edit-impossible 7:3"],
    },
    {
      name: "the guitar's melody changed in the notation: the tune counts, and that is said",
      change: changeNote(["P2", 7, 3, "C5"], withPitch("D5")),
      gone: [],
      come: [],
      said: ["edit-off-melody 7:3"],
    },
    {
      name: "the guitar's melody changed in the TAB: the tune counts, and that is said",
      change: changeNote(["P3", 7, 3, "1/8"], withPlace(1, 10)),
      gone: [],
      come: [],
      said: ["edit-off-melody 7:3"],
    },
    {
      name: "a chord symbol changed over the guitar alone: the lead sheet counts, and that is said",
      change: changeHarmony("P2", 3, 0, "F", "major"),
      gone: [],
      come: [],
      said: ["chord-symbol-beside-tune 3:1"],
    },
  ];
  test.each(cases)("$name", ({ change, gone, come, said }) => {
    const back = again(written, change);
    expect({ gone: back.gone, come: back.come, said: back.said }).toEqual({ gone, come, said });
    // What was kept once is kept again, and is then nobody's edit any more.
    const third = again(back, (root) => root);
    expect(third.text).toBe(back.text);
    expect(third.said).toEqual([]);
  });
});

import { describe, expect, test } from "vitest";
import type { Arrangement, Barre } from "../../src/arrangement/arrangement.js";
import type { Finger } from "../../src/guitar/grip.js";
import { cautionsOn } from "../../src/reporting/cautions.js";
import { GUITAR } from "../support/guitar.js";
import { tuneOf } from "../support/random-tune.js";

/** Half notes without a pause, each under one grip of two stopped notes; 60 quarters a minute make each two seconds. */
function arrangedFor(
  grips: readonly {
    readonly frets: readonly [number, number];
    readonly fingers: readonly [Finger, Finger];
    readonly barre?: Barre;
  }[],
  rest = 0,
) {
  const tune = tuneOf({
    notes: grips.map(() => ({ midi: 69, eighths: 4, rest })),
    chords: [{ at: 0, root: 0, kind: "major" }],
    repeat: undefined,
  });
  const supports = grips.map(({ frets, fingers }, index) => ({
    onset: tune.melody[index]?.onset ?? 0,
    end: (tune.melody[index]?.onset ?? 0) + 4,
    midi: 60,
    pitch: { letter: "C" as const, alter: 0, octave: 4 },
    degree: "1",
    string: 4,
    fret: frets[0],
    finger: fingers[0],
  }));
  const arrangement: Arrangement = {
    instrument: GUITAR,
    transposition: { semitones: 0, interval: "1P" },
    playedOtherwise: [],
    melody: grips.map(({ frets, fingers }) => ({ string: 1, fret: frets[1], finger: fingers[1] })),
    supports,
    events: grips.map(({ barre }, index) => ({
      onset: supports[index]?.onset ?? 0,
      melodyNote: index,
      attack: "struck",
      chord: 0,
      melodyDegree: "13",
      supports: [index],
      barres: barre === undefined ? [] : [barre],
      handMm: 0,
      whySingle: undefined,
      voicesLeftOut: [],
      leftOut: [],
      alternatives: [],
    })),
    graces: new Map(),
    cost: 0,
  };
  return cautionsOn(tune, arrangement, 60);
}

const barre = (fret: number, from = 5): Barre => ({ finger: 1, fret, from, to: 1 });
const barred = (fret: number, from?: number) => ({
  frets: [fret, fret] as const,
  fingers: [1, 1] as const,
  barre: barre(fret, from),
});
const easy = { frets: [5, 5], fingers: [1, 2] } as const;

describe("reaches", () => {
  test("a hand at ease gets no caution", () => {
    expect(arrangedFor([easy, { frets: [5, 7], fingers: [1, 3] }])).toEqual([]);
  });

  test("the widest beyond ease is named with its fingers, and how many there are", () => {
    // Frets 1 and 5 of a 650 mm neck are 126.6 mm apart, frets 1 and 4 97.6 mm.
    const [caution, ...others] = arrangedFor([
      { frets: [1, 4], fingers: [1, 4] },
      easy,
      { frets: [1, 5], fingers: [1, 4] },
    ]);
    expect(others).toEqual([]);
    expect(caution).toMatchObject({
      rule: "reach-beyond-relaxed",
      severity: "note",
      place: { measure: 2, beat: 1 },
    });
    expect(caution?.message).toBe(
      "2 grips reach further than a hand of this size lies at ease; the widest here, 127 mm between fingers 1 and 4.",
    );
  });

  test("the same frets higher up the neck are at ease", () => {
    expect(arrangedFor([{ frets: [9, 12], fingers: [1, 4] }])).toEqual([]);
  });
});

describe("barres", () => {
  test("six seconds of barres, whatever their frets, are said to be long", () => {
    const [caution] = arrangedFor([easy, barred(3), barred(5), barred(5)]);
    expect(caution).toMatchObject({ rule: "barre-long", severity: "note", place: { measure: 1, beat: 3 } });
    expect(caution?.message).toBe("From here a finger bars for 6.0 s without a pause.");
  });

  test("four seconds are not, nor six with a pause in them", () => {
    expect(arrangedFor([barred(3), barred(3)])).toEqual([]);
    expect(arrangedFor([barred(3), barred(3), easy, barred(3)])).toEqual([]);
    expect(arrangedFor([barred(3), barred(3), barred(3)], 1)).toEqual([]);
  });

  test("two strings under one finger are no barre to be careful with", () => {
    expect(arrangedFor([barred(3, 2), barred(3, 2), barred(3, 2)])).toEqual([]);
  });

  test("every caution says when to stop and whom to ask", () => {
    const cautions = arrangedFor([barred(3), barred(3), barred(3), { frets: [1, 5], fingers: [1, 4] }]);
    expect(cautions).toHaveLength(2);
    for (const { hint } of cautions) expect(hint).toMatch(/stop at pain.*teacher.*doctor/i);
  });
});

import { expect, test } from "vitest";
import { bestFingers, struckGrips } from "../../src/arranging/candidates/struck-grips.js";
import { COSTS, type CostTable, type VoicingWeights } from "../../src/arranging/costs/cost-table.js";
import { releaseCost } from "../../src/arranging/costs/release-cost.js";
import { chordOf } from "../../src/harmony/chord-tones.js";
import { supportPlan } from "../../src/harmony/support-plan.js";
import { parsePitchName } from "../../src/song/pitch.js";
import { GUITAR, gripFrom } from "../support/guitar.js";

/** Points of the easiest way to hold a grip; undefined where it is not among those that are looked at. */
function costOf(diagram: string, root: string, kind: string, costs: CostTable): number | undefined {
  const { strings } = gripFrom(diagram);
  const melody = strings.at(-1);
  const name = parsePitchName(root);
  if (melody === undefined || name === undefined) throw new Error(diagram);
  const midi = (GUITAR.openStrings[melody.string - 1] ?? 0) + melody.fret;
  const chord = chordOf({ root: name, kind, degrees: [], bass: undefined });
  const grips = struckGrips(
    { instrument: GUITAR, melodyStrings: [melody.string] },
    midi,
    supportPlan(chord, midi % 12, "auto"),
    costs,
  );
  const places = JSON.stringify(strings);
  return grips.find((grip) => JSON.stringify(grip.strings) === places)?.cost;
}

/** What one weight adds to a grip. */
function addedBy(weight: keyof VoicingWeights, diagram: string, root: string, kind: string): number {
  const without: CostTable = { ...COSTS, voicing: { ...COSTS.voicing, [weight]: 0 } };
  const whole = costOf(diagram, root, kind, COSTS);
  const rest = costOf(diagram, root, kind, without);
  if (whole === undefined || rest === undefined) throw new Error(`${diagram} is not looked at`);
  return whole - rest;
}

type Grip = readonly [diagram: string, root: string, kind: string];

test.each<[what: string, weight: keyof VoicingWeights, charged: Grip, free: Grip]>([
  [
    "a grip that is none of the known shapes",
    "unknownShape",
    ["x 8 10 x 10 x", "F", "major"],
    ["x x x 0 1 0", "C", "major"],
  ],
  [
    "fewer notes than the chord asks for",
    "noteFewer",
    ["x x 3 4 3 x", "G", "dominant"],
    ["3 x 3 4 3 x", "G", "dominant"],
  ],
  [
    "a silent string inside",
    "silentInnerString",
    ["x 8 10 x 10 x", "F", "major"],
    ["x x 10 10 10 x", "F", "major"],
  ],
  [
    "a silent string above the lowest note",
    "silentStringAboveLowest",
    ["3 x 3 4 3 x", "G", "dominant"],
    ["x x 5 7 6 7", "G", "dominant"],
  ],
  [
    "three notes over more than an octave",
    "spreadThreeNotes",
    ["x 8 10 x 10 x", "F", "major"],
    ["x x 10 10 10 x", "F", "major"],
  ],
  [
    "a third or seventh as bass",
    "lowestNotRootOrFifth",
    ["x 2 3 0 3 x", "G", "dominant"],
    ["3 x 3 4 3 x", "G", "dominant"],
  ],
  [
    "a diminished chord that its melody and a missing fifth make a major one",
    "soundsAsOtherChord",
    ["x x 9 7 8 x", "B", "diminished"],
    ["x 8 9 7 8 x", "B", "diminished"],
  ],
  [
    "an open string under a hand high on the neck",
    "openUnderHighHand",
    ["x 10 9 7 x 0", "G", "major"],
    ["x x 0 2 3 2", "D", "major"],
  ],
  [
    "an eleventh in fourths for the fifth that the symbol has",
    "fourthsForFifth",
    ["x x 10 10 11 11", "C", "minor-seventh"],
    ["x x 10 12 11 11", "C", "minor-seventh"],
  ],
  [
    "a triad with a note doubled",
    "doubledInFullTriad",
    ["x x 3 2 1 1", "F", "major"],
    ["x x x 2 1 1", "F", "major"],
  ],
  [
    "the thickest string above the tenth fret",
    "thickStringHighEachFret",
    ["12 x 12 13 12 x", "E", "dominant"],
    ["3 x 3 4 3 x", "G", "dominant"],
  ],
])("%s costs", (_, weight, charged, free) => {
  expect(addedBy(weight, ...charged)).toBeGreaterThan(0);
  expect(addedBy(weight, ...free)).toBe(0);
});

test("a melody note beyond the body's edge costs", () => {
  expect(addedBy("melodyPastBody", "x x x 13 13 13", "Db", "major-seventh")).toBeGreaterThan(0);
});

const gripsWith = (costs: CostTable) =>
  struckGrips(
    { instrument: GUITAR, melodyStrings: [1, 2, 3] },
    72,
    supportPlan(
      chordOf({ root: { letter: "A", alter: 0 }, kind: "minor-seventh", degrees: [], bass: undefined }),
      0,
      "auto",
    ),
    costs,
  );

test("other fingers than the easiest for a grip cost more than they are harder, the easiest nothing", () => {
  const plain = gripsWith({ ...COSTS, voicing: { ...COSTS.voicing, unusualFingersEachPoint: 0 } });
  const nameOf = ({ strings, fingers }: (typeof plain)[number]) => JSON.stringify([strings, fingers]);
  const before = new Map(plain.map((grip) => [nameOf(grip), grip.cost]));
  const leastFor = new Map<string, number>();
  for (const { strings, cost } of plain) {
    const name = JSON.stringify(strings);
    leastFor.set(name, Math.min(leastFor.get(name) ?? cost, cost));
  }
  let unusual = 0;
  for (const grip of gripsWith(COSTS)) {
    const cost = before.get(nameOf(grip)) ?? Number.NaN;
    const harder = cost - (leastFor.get(JSON.stringify(grip.strings)) ?? Number.NaN);
    if (harder > 0) unusual += 1;
    expect(grip.cost - cost > 0).toBe(harder > 0);
  }
  expect(unusual).toBeGreaterThan(0);
});

test("every grip that the little finger bars costs more, and no other", () => {
  const without = gripsWith({ ...COSTS, voicing: { ...COSTS.voicing, littleFingerBarre: 0 } });
  const nameOf = ({ strings, fingers }: (typeof without)[number]) => JSON.stringify([strings, fingers]);
  const before = new Map(without.map((grip) => [nameOf(grip), grip.cost]));
  let barred = 0;
  for (const grip of gripsWith(COSTS)) {
    const isBarred = grip.fingers.filter((finger) => finger === 4).length > 1;
    if (isBarred) barred += 1;
    const added = grip.cost - (before.get(nameOf(grip)) ?? 0);
    expect(added > 0).toBe(isBarred);
  }
  expect(barred).toBeGreaterThan(0);
});

test("a flat finger beside a string that is stopped behind it costs more, whatever else is taken", () => {
  const without = { ...COSTS, voicing: { ...COSTS.voicing, barreBesideLowerFret: 0 } };
  const addedAt = (diagram: string): readonly string[] => {
    const { strings } = gripFrom(diagram);
    const effortOf = (costs: CostTable) =>
      new Map(
        bestFingers({ instrument: GUITAR }, strings, costs).map(({ fingers, effort }) => [
          fingers.join(""),
          effort,
        ]),
      );
    const [before, after] = [effortOf(without), effortOf(COSTS)];
    return [...after].flatMap(([fingers, effort]) =>
      effort > (before.get(fingers) ?? effort) ? [fingers] : [],
    );
  };
  expect(addedAt("x 5 7 7 6 8")).toEqual(["13324"]);
  expect(addedAt("x x 5 5 5 3")).toContain("3331");
  expect(addedAt("x 5 7 5 6 5")).toEqual([]);
  expect(addedAt("x 0 2 2 2 0")).toEqual([]);
});

const raise = (what: string): never => {
  throw new Error(what);
};

/** Fingers looked at for a grip, strings from the lowest up. */
const fingersAt = (diagram: string): readonly string[] =>
  bestFingers({ instrument: GUITAR }, gripFrom(diagram).strings, COSTS).map(({ fingers }) =>
    fingers.join(""),
  );

test("a grip may be taken with the barre that lies already, without one, or with other fingers as easy", () => {
  expect(fingersAt("x x 8 9 8 10")).toEqual(expect.arrayContaining(["1324", "1214"]));
  expect(fingersAt("x 8 6 8 6 x")).toEqual(expect.arrayContaining(["3141", "2131"]));
});

test.each<[what: string, ...Grip, isOther: boolean]>([
  ["F major seventh under its ninth, as A minor seventh", "x 7 7 5 8 x", "F", "major-seventh", true],
  ["D minor seventh under its ninth, with F in the bass", "x x 3 2 1 0", "D", "minor-seventh", true],
  ["D minor seventh under its ninth, with C below", "x 3 3 2 5 x", "D", "minor-seventh", false],
  ["G ninth without its root", "x x 3 4 3 5", "G", "dominant-ninth", false],
  ["A minor with its root", "x x 7 5 5 5", "A", "minor", false],
  ["F sixth without its fifth, as D minor", "x 8 7 7 x x", "F", "major-sixth", true],
  ["F sixth with its fifth", "8 8 7 7 x x", "F", "major-sixth", false],
  ["C seventh without its fifth", "x 3 2 3 1 x", "C", "dominant", false],
])("%s: what is heard", (_, diagram, root, kind, isOther) => {
  expect(addedBy("soundsAsOtherChord", diagram, root, kind) > 0).toBe(isOther);
});

test("the bass that a symbol names is as dear to let go as a guide tone", () => {
  const over = (bass: string | undefined) =>
    chordOf({
      root: parsePitchName("C") ?? raise("C"),
      kind: "major",
      degrees: [],
      bass: bass === undefined ? undefined : parsePitchName(bass),
    });
  const goes = (bass: string | undefined, degree: string) => releaseCost([degree], over(bass), COSTS.voicing);
  expect(goes("G", "5")).toBe(goes(undefined, "3"));
  expect(goes("D", "bass")).toBe(goes(undefined, "3"));
  expect(goes(undefined, "5")).toBeLessThan(goes("G", "5"));
});

test("at one fret the higher finger is on the higher string", () => {
  for (const diagram of ["x 1 0 3 3 x", "x x 2 2 2 0", "x 8 10 10 10 x", "x x 7 7 7 10"])
    for (const fingers of fingersAt(diagram)) {
      const { strings } = gripFrom(diagram);
      const sorted = strings.map(({ fret }, index) => fret * 10 + Number(fingers[index]));
      for (const [index, one] of strings.entries())
        for (const [at, other] of strings.entries())
          if (at > index && one.fret === other.fret)
            expect(sorted[at]).toBeGreaterThanOrEqual(sorted[index] ?? 0);
    }
});

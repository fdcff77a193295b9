import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { ArrangedEvent, Arrangement, Placement } from "../../src/arrangement/arrangement.js";
import type { TuneWishes } from "../../src/arranging/arrange-settings.js";
import { arrangeTune } from "../../src/arranging/arrange-tune.js";
import { arrangingProblem } from "../../src/arranging/tune-problem.js";
import { ScoreError } from "../../src/diagnostics.js";
import type { Finger } from "../../src/guitar/grip.js";
import { cheapestWay } from "../../src/search/cheapest-path.js";
import { UNTRANSPOSED } from "../../src/song/transposition.js";
import type { Tune } from "../../src/song/tune.js";
import type { AvoidWish, GripWish, TextureWish, Wish } from "../../src/wishes/wishes.js";
import { bruteForce, thinned } from "../support/brute-force.js";
import { GUITAR } from "../support/guitar.js";
import { PLAIN_WISHES } from "../support/plain-wishes.js";
import { tuneOf, tuneSketches } from "../support/random-tune.js";

const asked = (wishes: readonly Wish[], more: Partial<TuneWishes> = {}): TuneWishes => ({
  ...PLAIN_WISHES,
  texture: "fluent",
  instrument: GUITAR,
  ...more,
  wishes,
});

function arranged(tune: Tune, wishes: readonly Wish[], more: Partial<TuneWishes> = {}): Arrangement {
  const arrangement = arrangeTune(tune, UNTRANSPOSED, asked(wishes, more));
  if (arrangement === undefined) throw new Error("no way");
  return arrangement;
}

const eventAt = (arrangement: Arrangement, tick: number): ArrangedEvent => {
  const event = arrangement.events.find(({ onset }) => onset === tick);
  if (event === undefined) throw new Error(`nothing at ${tick}`);
  return event;
};

/** What sounds at an event, lowest string first. */
const soundingAt = (arrangement: Arrangement, event: ArrangedEvent): readonly Placement[] =>
  [
    ...event.supports.map((index) => arrangement.supports[index]),
    event.melodyNote === undefined ? undefined : arrangement.melody[event.melodyNote],
  ].filter((place) => place !== undefined);

const placeOf = ({ string, fret, finger }: Placement) => ({ string, fret, finger });

/** Two bars of quarters and halves: C D E G | A . G . over C, Am7, Dm7 and G7. */
const TUNE = tuneOf({
  notes: [
    { midi: 60, eighths: 2, rest: 0 },
    { midi: 62, eighths: 2, rest: 0 },
    { midi: 64, eighths: 2, rest: 0 },
    { midi: 67, eighths: 2, rest: 0 },
    { midi: 69, eighths: 4, rest: 0 },
    { midi: 67, eighths: 4, rest: 0 },
  ],
  chords: [
    { at: 0, root: 0, kind: "major" },
    { at: 4, root: 9, kind: "minor-seventh" },
    { at: 8, root: 2, kind: "minor-seventh" },
    { at: 12, root: 7, kind: "dominant" },
  ],
  repeat: undefined,
});

describe("a wished grip", () => {
  test("is played as it was asked for, finger and all", () => {
    const grip: GripWish = {
      kind: "grip",
      wording: "wish 1",
      at: 8,
      strings: [
        { string: 4, fret: 7, finger: 3 },
        { string: 3, fret: 5, finger: 1 },
        { string: 1, fret: 5, finger: 1 },
      ],
    };
    const wished = arranged(TUNE, [grip]);
    expect(soundingAt(wished, eventAt(wished, 8)).map(placeOf)).toEqual(grip.strings);
  });

  test("may leave the fingers to the hand", () => {
    const strings = [
      { string: 4, fret: 7 },
      { string: 3, fret: 5 },
      { string: 1, fret: 5 },
    ];
    const wished = arranged(TUNE, [{ kind: "grip", wording: "wish 1", at: 8, strings }]);
    const played = soundingAt(wished, eventAt(wished, 8));
    expect(played.map(({ string, fret }) => ({ string, fret }))).toEqual(strings);
    expect(played.every(({ finger }) => finger > 0)).toBe(true);
  });

  test.each([
    [
      "with the melody under another note",
      [
        { string: 2, fret: 10 },
        { string: 1, fret: 8 },
      ],
      /highest note/,
    ],
    [
      "that no hand can reach",
      [
        { string: 6, fret: 15 },
        { string: 1, fret: 5 },
      ],
      /No hand/,
    ],
    [
      "with a lower finger at a higher fret",
      [
        { string: 4, fret: 7, finger: 1 as const },
        { string: 1, fret: 5, finger: 2 as const },
      ],
      /No hand/,
    ],
    [
      "on a string there is not",
      [
        { string: 7, fret: 3 },
        { string: 1, fret: 5 },
      ],
      /no such place/,
    ],
    [
      "with two notes on a string",
      [
        { string: 1, fret: 3 },
        { string: 1, fret: 5 },
      ],
      /one note at a time/,
    ],
  ])("%s is refused by its name and with the reason", (_, strings, why) => {
    expect(() =>
      arranged(TUNE, [{ kind: "grip", wording: "wish 4 (measure 2, beat 1)", at: 8, strings }]),
    ).toThrow(new RegExp(`wish 4 \\(measure 2, beat 1\\).*${why.source}`));
  });

  test("for a moment at which nothing begins is refused with the nearest one", () => {
    const strings = [{ string: 1, fret: 5 }];
    expect(() => arranged(TUNE, [{ kind: "grip", wording: "wish 1", at: 9, strings }])).toThrow(
      /wish 1 .*nearest is measure 2, beat 1/i,
    );
  });
});

describe("a note that was asked for", () => {
  test("is single where it would have had a chord", () => {
    expect(eventAt(arranged(TUNE, []), 8).attack).toBe("struck");
    const wished = arranged(TUNE, [{ kind: "play", wording: "wish 1", at: 8, as: "single" }]);
    expect(eventAt(wished, 8)).toMatchObject({ attack: "single", supports: [] });
  });

  test.each(["fluent", "lean"] as const)("has a chord where the %s texture left it alone", (texture) => {
    // The low note is too far from the high ones for a hand to keep any of their chord down, and no open string has a tone of it.
    const leap = tuneOf({
      notes: [77, 56, 77, 77].map((midi) => ({ midi, eighths: 1, rest: 0 })),
      chords: [{ at: 0, root: 1, kind: "major" }],
      repeat: undefined,
    });
    const more = { texture, tempo: 320 };
    expect(eventAt(arranged(leap, [], more), 1).attack).toBe("single");
    const wished = arranged(leap, [{ kind: "play", wording: "wish 1", at: 1, as: "chord" }], more);
    expect(eventAt(wished, 1).attack).toBe("struck");
  });

  test.each(["full", "fluent", "lean"] as const)(
    "has a chord where it passes by in the %s texture",
    (texture) => {
      // C, a rest in which nothing rings on, and off the beat a D over C.
      const passing = tuneOf({
        notes: [
          { midi: 72, eighths: 2, rest: 7 },
          { midi: 74, eighths: 1, rest: 0 },
          { midi: 76, eighths: 4, rest: 0 },
        ],
        chords: [{ at: 0, root: 0, kind: "major" }],
        repeat: undefined,
      });
      expect(eventAt(arranged(passing, [], { texture }), 9).whySingle).toBe("passing-note");
      const wished = arranged(passing, [{ kind: "play", wording: "wish 1", at: 9, as: "chord" }], {
        texture,
      });
      expect(eventAt(wished, 9).attack).toBe("struck");
    },
  );

  test("with a chord before the first symbol is refused with the reason", () => {
    const pickup = tuneOf({
      notes: [60, 62].map((midi) => ({ midi, eighths: 4, rest: 0 })),
      chords: [{ at: 4, root: 0, kind: "major" }],
      repeat: undefined,
    });
    expect(() => arranged(pickup, [{ kind: "play", wording: "wish 2", at: 0, as: "chord" }])).toThrow(
      /wish 2 cannot be granted.*No chord is in force/,
    );
  });
});

describe("what is to be avoided", () => {
  test.each<[string, Partial<AvoidWish>, (place: Placement) => boolean]>([
    ["the little finger", { fingers: [4] }, ({ finger }) => finger === 4],
    ["two strings", { strings: [5, 3] }, ({ string }) => string === 5 || string === 3],
    ["frets one to four", { frets: [1, 4] }, ({ fret }) => fret >= 1 && fret <= 4],
  ])("%s is used nowhere in the measures, and the notes still have chords", (_, what, isForbidden) => {
    const plain = arranged(TUNE, []);
    const places = (one: Arrangement) => one.events.flatMap((event) => soundingAt(one, event));
    expect(what.fingers !== undefined || places(plain).some(isForbidden)).toBe(true);
    const wish: AvoidWish = {
      kind: "avoid",
      wording: "wish 1",
      from: 0,
      to: 16,
      fingers: [],
      strings: [],
      frets: undefined,
      ...what,
    };
    const wished = arranged(TUNE, [wish]);
    expect(places(wished).filter(isForbidden)).toEqual([]);
    expect(wished.events.filter(({ supports }) => supports.length > 0).length).toBeGreaterThanOrEqual(4);
  });

  test("grips without the finger are found even where the best fingers of a shape would take it", () => {
    // Fingers picked first and the wish looked at afterwards would leave the shapes that need no other finger.
    const without: AvoidWish = {
      kind: "avoid",
      wording: "wish 1",
      from: 8,
      to: 12,
      fingers: [4],
      strings: [],
      frets: undefined,
    };
    const shapes = (wishes: readonly Wish[]) => {
      const { columns, events } = arrangingProblem(TUNE, asked(wishes));
      const column = columns[events.findIndex(({ onset }) => onset === 8)]?.candidates ?? [];
      return column.filter(({ attack, fingers }) => attack === "struck" && !fingers.includes(4));
    };
    expect(shapes([without]).length).toBeGreaterThan(shapes([]).length);
  });

  test("every string at once is refused by its name", () => {
    const wish: AvoidWish = {
      kind: "avoid",
      wording: "wish 7",
      from: 0,
      to: 16,
      fingers: [],
      strings: [1, 2, 3, 4, 5, 6],
      frets: undefined,
    };
    expect(() => arranged(TUNE, [wish])).toThrow(/wish 7 cannot be granted/);
  });
});

test("another texture counts in its measures and nowhere else", () => {
  const steps = tuneOf({
    notes: [60, 62, 64, 65, 67, 65, 64, 62, 60, 62, 64, 65, 67, 65, 64, 62].map((midi) => ({
      midi,
      eighths: 1,
      rest: 0,
    })),
    chords: [{ at: 0, root: 0, kind: "major" }],
    repeat: undefined,
  });
  const wish: TextureWish = { kind: "texture", wording: "wish 1", from: 8, to: 16, texture: "full" };
  const struckIn = (one: Arrangement, from: number) =>
    one.events
      .filter(({ onset, attack }) => onset >= from && onset < from + 8 && attack === "struck")
      .map(({ onset }) => onset - from);
  const strongBeats = [0, 4];
  const lean = arranged(steps, [], { texture: "lean" });
  const wished = arranged(steps, [wish], { texture: "lean" });
  expect(strongBeats).toEqual(expect.arrayContaining(struckIn(lean, 8)));
  expect(struckIn(wished, 8).length).toBeGreaterThan(strongBeats.length);
  expect(strongBeats).toEqual(expect.arrayContaining(struckIn(wished, 0)));
});

/** Wishes for random tunes: each kind, for moments that the tune has. */
const wishSketches = fc.array(
  fc.record({
    kind: fc.constantFrom("grip", "play", "avoid", "texture"),
    event: fc.nat(20),
    length: fc.integer({ min: 1, max: 16 }),
    seed: fc.nat(10_000),
    fingers: fc.uniqueArray(fc.constantFrom<Finger>(1, 2, 3, 4), { maxLength: 2 }),
    strings: fc.uniqueArray(fc.integer({ min: 2, max: 6 }), { maxLength: 2 }),
    frets: fc.option(fc.tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 4, max: 6 })), {
      nil: undefined,
    }),
    texture: fc.constantFrom("fluent" as const, "full" as const, "lean" as const),
  }),
  { minLength: 1, maxLength: 3 },
);

test("with wishes the way found is still the cheapest, and keeps every wish", () => {
  let granted = 0;
  const kinds = new Map<string, number>();
  fc.assert(
    fc.property(tuneSketches({ lowest: 57, highest: 74, mostNotes: 5 }), wishSketches, (sketch, wished) => {
      const tune = tuneOf(sketch);
      const plain = arrangingProblem(tune, asked([]));
      const inOrder = wished.map((one, index): Wish => {
        const at = one.event % plain.events.length;
        const event = plain.events[at];
        const tick = event?.onset ?? 0;
        const wording = `wish ${index + 1}`;
        const range = { wording, from: tick, to: tick + one.length };
        const column = plain.columns[at]?.candidates ?? [];
        const shape = column[one.seed % Math.max(1, column.length)];
        switch (one.kind) {
          case "grip":
            return { kind: "grip", wording, at: tick, strings: shape?.strings ?? [] };
          case "play":
            return { kind: "play", wording, at: tick, as: one.seed % 2 === 0 ? "single" : "chord" };
          case "avoid":
            return { kind: "avoid", ...range, fingers: one.fingers, strings: one.strings, frets: one.frets };
          default:
            return { kind: "texture", ...range, texture: one.texture };
        }
      });
      // A file's wishes for grips come first, so that no other one is overlooked.
      const isGrip = ({ kind }: Wish) => kind === "grip";
      const wishes = [...inOrder.filter(isGrip), ...inOrder.filter((wish) => !isGrip(wish))];
      const problem = problemOrRefusal(tune, wishes);
      if (problem === undefined) return;
      granted += 1;
      for (const { kind } of wishes) kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
      const small = thinned(problem, wished.length);
      expect(cheapestWay(small)?.cost ?? Number.POSITIVE_INFINITY).toBe(bruteForce(small));
      const arrangement = arrangeTune(tune, UNTRANSPOSED, asked(wishes));
      if (arrangement !== undefined) for (const wish of wishes) expectKept(arrangement, wish, wishes);
    }),
    { numRuns: 700 },
  );
  expect(granted).toBeGreaterThan(350);
  for (const kind of ["grip", "play", "avoid", "texture"]) expect(kinds.get(kind)).toBeGreaterThan(70);
}, 300_000);

/** undefined where the wishes cannot be granted, which has to be said of one of them by its name. */
function problemOrRefusal(tune: Tune, wishes: readonly Wish[]) {
  try {
    return arrangingProblem(tune, asked(wishes));
  } catch (error) {
    if (!(error instanceof ScoreError)) throw error;
    expect(error.message).toMatch(/wish [123]/);
    return undefined;
  }
}

function expectKept(arrangement: Arrangement, wish: Wish, wishes: readonly Wish[]): void {
  if (wish.kind === "texture") return;
  if (wish.kind === "avoid") {
    const covered = arrangement.events.filter(({ onset }) => onset >= wish.from && onset < wish.to);
    for (const place of covered.flatMap((event) => soundingAt(arrangement, event))) {
      expect(wish.strings).not.toContain(place.string);
      expect(wish.fingers).not.toContain(place.finger);
      const [low, high] = wish.frets ?? [99, 0];
      expect(place.fret > 0 && place.fret >= low && place.fret <= high).toBe(false);
    }
    return;
  }
  // Of two grips for one moment the later counts; a file with both is refused before that.
  const last = wishes.findLast((one): one is GripWish => one.kind === "grip" && one.at === wish.at);
  if (wish.kind === "grip" && wish !== last) return;
  const played = soundingAt(arrangement, eventAt(arrangement, wish.at));
  if (wish.kind === "play") expect(played.length === 1).toBe(wish.as === "single");
  else expect(played.map(({ string, fret }) => ({ string, fret }))).toEqual(wish.strings);
}

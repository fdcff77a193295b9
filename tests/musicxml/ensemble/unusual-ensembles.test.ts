import { describe, expect, test } from "vitest";
import {
  type Arranged,
  type ArrangeOptions,
  arrangeScore,
  completeOptions,
  Findings,
  readScore,
  readWishes,
  ScoreError,
} from "../../../src/index.js";
import { attributes, backup, FOUR_FOUR, note, type PartText, rest, score } from "../../support/score-text.js";

function arranged(parts: readonly PartText[], options: Partial<ArrangeOptions> = {}): Arranged {
  const document = readScore(new TextEncoder().encode(score(parts)), new Findings());
  return arrangeScore(
    document,
    completeOptions({ texture: "voices", alternatives: 0, ...options }),
    new Findings(),
  );
}

const part = (inner: string, more: Partial<PartText> = {}): PartText => ({
  bars: [attributes(FOUR_FOUR) + inner],
  ...more,
});

/** What sounds under the melody, as MIDI numbers in order of time. */
const under = ({ arrangement }: Arranged): readonly number[] => arrangement.supports.map(({ midi }) => midi);

const rules = ({ report }: Arranged): readonly string[] => report.findings.map(({ rule }) => rule);

const unpitched = (duration: number): string =>
  `<note><unpitched><display-step>E</display-step><display-octave>4</display-octave></unpitched><duration>${duration}</duration><voice>1</voice><type>whole</type></note>`;

function errorOf(work: () => unknown): ScoreError {
  try {
    work();
  } catch (error) {
    if (error instanceof ScoreError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}

describe("An ensemble may be unusual", () => {
  test("parts that never sound together are refused: no chord can be heard in them", () => {
    const turns = [
      { bars: [attributes(FOUR_FOUR) + note("E4", 16), rest(16)] },
      { bars: [attributes(FOUR_FOUR) + rest(16), note("C4", 16)] },
    ];
    expect(errorOf(() => arranged(turns)).finding.rule).toBe("no-chord-symbols");
  });

  test("percussion sounds no pitch, and has no part in it", () => {
    const one = arranged([part(note("E4", 16)), part(unpitched(16)), part(note("C3", 16))]);
    expect(under(one)).toEqual([48]);
  });

  test("a keyboard of chords is as many voices as it has rows", () => {
    const chords =
      note("C4", 16, { voice: 1 }) +
      note("E4", 16, { voice: 1, chord: true }) +
      note("G4", 16, { voice: 1, chord: true }) +
      backup(16) +
      note("C3", 16, { voice: 5 });
    const one = arranged([part(chords)]);
    expect(one.sheet.tune.melody.map(({ midi }) => midi)).toEqual([67]);
    expect(under(one)).toContain(48);
    for (const midi of under(one)) expect([48, 60, 64]).toContain(midi);
  });

  test("of thirty parts the bass stays and what the hand can hold of the rest", () => {
    const names = ["E4", "D4", "C4", "B3", "A3", "G3"];
    const parts = Array.from({ length: 30 }, (_, index) =>
      part(note(index === 0 ? "E5" : index === 29 ? "C3" : (names[index % names.length] ?? "C4"), 16)),
    );
    const one = arranged(parts);
    expect(Math.min(...under(one)) % 12).toBe(0);
    expect(one.arrangement.supports.length).toBeLessThanOrEqual(5);
  });

  test("empty staves are passed over", () => {
    const one = arranged([part(rest(16)), part(note("E4", 16)), part(note("C3", 16)), part(rest(16))]);
    expect(under(one)).toEqual([48]);
    expect(one.sheet.source.melodyPartId).toBe("P2");
  });

  test("a voice that crosses to the other staff goes on sounding there", () => {
    const keyboard =
      note("E4", 16, { voice: 1, staff: 1 }) +
      backup(16) +
      note("C4", 8, { voice: 2, staff: 1 }) +
      note("A3", 8, { voice: 2, staff: 2 });
    const staves = `${FOUR_FOUR}<staves>2</staves>`;
    const one = arranged([{ bars: [attributes(staves) + keyboard] }]);
    expect(under(one)).toEqual([60, 57]);
    expect(one.sheet.tune.voices?.length).toBe(2);
  });

  test("cue notes and hidden notes are nobody's voice", () => {
    const cue = note("A3", 16, { before: "<cue/>" });
    const hidden = note("F3", 16, { attributes: 'print-object="no"' });
    const one = arranged([part(note("E4", 16)), part(cue), part(hidden), part(note("C3", 16))]);
    expect(under(one)).toEqual([48]);
  });

  describe.each(["ossia", "editorial", "cue"])("an %s staff is nobody's voice", (type) => {
    const details = (number: number) =>
      `<staff-details number="${number}"><staff-type>${type}</staff-type></staff-details>`;

    test("on a staff of its own in a part", () => {
      const staves =
        note("G4", 16, { voice: 1, staff: 1 }) + backup(16) + note("E4", 16, { voice: 5, staff: 2 });
      const above = `${FOUR_FOUR}<staves>2</staves>${details(1)}`;
      const one = arranged([{ bars: [attributes(above) + staves] }, part(note("C3", 16))]);
      expect(one.sheet.tune.melody.map(({ midi }) => midi)).toEqual([64]);
      expect(under(one)).toEqual([48]);
      expect(one.sheet.tune.voices?.length).toBe(2);
    });

    test("in a part of its own", () => {
      const beside = { bars: [attributes(FOUR_FOUR + details(1)) + note("A4", 16)] };
      const one = arranged([beside, part(note("E4", 16)), part(note("C3", 16))]);
      expect(one.sheet.tune.melody.map(({ midi }) => midi)).toEqual([64]);
      expect(under(one)).toEqual([48]);
    });

    test("but is the tune where there is nothing else", () => {
      const alone = { bars: [attributes(FOUR_FOUR + details(1)) + note("E4", 16)] };
      const chord = "<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>";
      const tune = { bars: [attributes(FOUR_FOUR + details(1)) + chord + note("E4", 16)] };
      expect(arranged([tune], { texture: "fluent" }).sheet.tune.melody).toHaveLength(1);
      expect(errorOf(() => arranged([alone], { texture: "fluent" })).finding.rule).toBe("no-chord-symbols");
    });
  });

  test("the line may be said, and the other voices stay under it where they lie lower", () => {
    const one = arranged([part(note("G4", 16)), part(note("E4", 16)), part(note("C3", 16))], {
      melody: "P2",
    });
    expect(one.sheet.tune.melody.map(({ midi }) => midi)).toEqual([64]);
    expect(Math.max(...under(one))).toBeLessThan(64);
  });

  test("which line was taken, that there are no chord symbols: both are said", () => {
    const one = arranged([part(note("E4", 16)), part(note("C3", 16))]);
    expect(rules(one)).toEqual(expect.arrayContaining(["melody-found", "chords-from-voices"]));
  });
});

test("a player may say in a file of wishes where the tune is in some measures", () => {
  const xml = score([
    { bars: [attributes(FOUR_FOUR) + note("E4", 16), note("G4", 16)] },
    { bars: [attributes(FOUR_FOUR) + note("C4", 16), note("C4", 16)] },
  ]);
  const wishes = readWishes('{ "wishes": [{ "measures": [2], "melody": "P2" }] }');
  const document = readScore(new TextEncoder().encode(xml), new Findings());
  const { sheet } = arrangeScore(document, completeOptions({}), new Findings(), wishes);
  expect(sheet.tune.melody.map(({ midi }) => midi)).toEqual([64, 60]);
});

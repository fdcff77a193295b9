import { describe, expect, test } from "vitest";
import type { Finding } from "../../src/diagnostics.js";
import { readWishes, WishesError } from "../../src/wishes/read-wishes.js";

/** What is found wrong with a file of wishes. */
function findingsIn(text: string): readonly Finding[] {
  try {
    readWishes(text);
  } catch (error) {
    if (error instanceof WishesError) return error.findings;
    throw error;
  }
  return [];
}

const faults = (text: string): readonly string[] => findingsIn(text).map(({ message }) => message);

const file = (...wishes: readonly unknown[]): string => JSON.stringify({ wishes });

test("a wish of each kind is read as it is written", () => {
  const wishes = [
    {
      measure: 5,
      beat: 1,
      grip: [
        { string: 2, fret: 3, finger: 1 },
        { string: 4, fret: 0, held: true },
      ],
    },
    { measure: 6, beat: 2.5, play: "single" },
    { measures: [1, 8], avoid: { fingers: [4], strings: [6], frets: [9, 12] } },
    { measures: [3], texture: "full" },
  ];
  expect(readWishes(JSON.stringify({ wishes }))).toEqual({ wishes });
});

test("a byte order mark before the JSON is no trouble", () => {
  expect(readWishes('\uFEFF{"wishes":[]}')).toEqual({ wishes: [] });
});

describe("what cannot be read is said by the wish and the field", () => {
  test.each([
    ["text that is not JSON", "wishes: none", /not JSON/],
    ["a list without the field around it", "[]", /object/],
    ["a file without wishes", "{}", /lacks the field "wishes"/],
    ["a field that there is not", '{"wishes":[],"hopes":[]}', /field "hopes"/],
    ["a wish that is a word", '{"wishes":["slower"]}', /wishes\.0/],
    ["a wish for nothing", file({ measure: 1, beat: 1 }), /^Wish 1 has none of grip, play, avoid, texture/],
    [
      "a wish for two things",
      file({ measure: 1, beat: 1, play: "chord", grip: [{ string: 1, fret: 0 }] }),
      /^Wish 1 has more than one of/,
    ],
    ["a measure before the first", file({ measure: 0, beat: 1, play: "chord" }), /^Wish 1 at measure: 0/],
    ["a beat that is missing", file({ measure: 1, play: "chord" }), /^Wish 1 lacks the field "beat"/],
    [
      "a fifth finger",
      file({ measure: 1, beat: 1, grip: [{ string: 1, fret: 2, finger: 5 }] }),
      /grip\.0\.finger: 5/,
    ],
    [
      "another way to play",
      file({ measure: 1, beat: 1, play: "loud" }),
      /"loud" must be one of single, chord/,
    ],
    ["another texture", file({ measures: [1, 2], texture: "thick" }), /must be one of fluent, full, lean/],
    ["nothing to avoid", file({ measures: [1, 2], avoid: {} }), /avoid/],
    ["three measures for a range", file({ measures: [1, 2, 3], texture: "full" }), /measures/],
    ["a misspelled field", file({ measures: [1], avoid: { finger: [4] } }), /field "finger"/],
  ])("%s", (_, text, said) => {
    expect(faults(text)).toEqual(expect.arrayContaining([expect.stringMatching(said)]));
  });

  test("every wish that is wrong, each by its number", () => {
    const messages = faults(
      file({ measure: 1, beat: 1 }, { measures: [1], texture: "full" }, { measure: 1 }),
    );
    expect(messages.map((message) => message.slice(0, 6))).toEqual(["Wish 1", "Wish 3"]);
  });
});

test.each([
  ["a moment", { measure: 4, beat: 2.5, play: "loud" }, { measure: 4, beat: 2.5 }],
  ["measures", { measures: [4, 6], texture: "thick" }, { measure: 4, beat: 1 }],
  ["a measure without a beat", { measure: 4, play: "chord" }, { measure: 4 }],
  ["a measure that is none", { measure: "four", beat: 1, play: "chord" }, {}],
  ["no measure", { play: "chord" }, {}],
])("a wish for %s that cannot be read has the place that can", (_, wish, place) => {
  const findings = findingsIn(file(wish));
  expect(findings.length).toBeGreaterThan(0);
  for (const finding of findings) expect(finding.place).toEqual(place);
});

import { expect, test } from "vitest";
import { chordInWords, degreeInWords, momentInWords, noteInWords } from "../../src/reporting/moment-words.js";

test.each([
  ["Gm7", "G minor seventh"],
  ["Bb", "B flat"],
  ["F#m7b5", "F sharp half diminished"],
  ["C/E", "C over E"],
  ["Ebmaj7", "E flat major seventh"],
  ["A7(b9)", "A seventh flat 9"],
])("%s is said %s", (chord, words) => {
  expect(chordInWords(chord)).toBe(words);
});

test("degrees and notes are said as musicians say them", () => {
  expect(degreeInWords("b3")).toBe("flat third");
  expect(degreeInWords("#11")).toBe("sharp eleventh");
  expect(degreeInWords("bass")).toBe("bass");
  expect(noteInWords("Eb5")).toBe("E flat 5");
});

test("a moment says chord, what is on top, and where the hand is", () => {
  const words = momentInWords({
    measure: 1,
    beat: 1,
    chord: "Gm7",
    melody: "Bb4",
    melodyDegree: "b3",
    attack: "struck",
    degrees: ["1", "b3"],
    notes: [
      { string: 6, fret: 3, finger: 2 },
      { string: 3, fret: 3, finger: 3 },
    ],
    barres: [],
    leftOut: [],
    alternatives: [],
  });
  expect(words).toBe("G minor seventh, flat third on top, B flat 4, struck with its chord, third fret");
});

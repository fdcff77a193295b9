import { describe, expect, test } from "vitest";
import { parseChordSuffix, parseChordText } from "../../src/harmony/chord-text.js";
import { degreesOf } from "../../src/harmony/chord-tones.js";
import { nameOf } from "../../src/song/pitch.js";

/** "C half-diminished", "Bb dominant add b9/D". */
function read(text: string): string | undefined {
  const symbol = parseChordText(text);
  if (symbol === undefined || symbol === "no-chord") return symbol;
  const degrees = symbol.degrees.map(
    ({ type, value, alter }) => ` ${type} ${alter < 0 ? "b".repeat(-alter) : "#".repeat(alter)}${value}`,
  );
  return `${nameOf(symbol.root)} ${symbol.kind}${degrees.join("")}${symbol.bass === undefined ? "" : `/${nameOf(symbol.bass)}`}`;
}

/** Semitones above the root. */
const tones = (text: string): string | undefined => {
  const symbol = parseChordText(text);
  return symbol === undefined || symbol === "no-chord"
    ? undefined
    : degreesOf(symbol)
        .map(({ semitones }) => semitones)
        .join(" ");
};

/** Spellings of one chord on each line, after what MusicXML calls it. */
const SPELLINGS: readonly (readonly [string, string])[] = [
  ["major", "C CM Cmaj CMaj CMAJ Cmajor"],
  ["minor", "Cm C- Cmin CMin CMIN Cmi CMI Cminor"],
  ["augmented", "C+ Caug Caugmented C(#5)"],
  ["diminished", "C° Cº Cdim Cdiminished Co Cm(b5)"],
  ["dominant", "C7 Cdom7"],
  [
    "major-seventh",
    "Cmaj7 CMaj7 CMAJ7 CM7 Cma7 CMa7 CMA7 Cmj7 Cj7 C△ C△7 CΔ CΔ7 C∆7 C^7 C^ C7M C(maj7) C maj7",
  ],
  ["minor-seventh", "Cm7 C-7 Cmin7 CMIN7 Cmi7 CMI7 C−7 C–7 Cm⁷"],
  ["diminished-seventh", "C°7 Cdim7 Co7"],
  ["augmented-seventh", "C+7 Caug7 C7+ C7#5 C7♯5 C7+5 C7(#5) C7aug"],
  ["half-diminished", "Cø Cø7 CØ7 Cm7b5 C-7b5 Cmin7(b5) Cm7♭5 Cm7-5 Cm7(b5)"],
  ["major-minor", "Cm(maj7) CmMaj7 CmM7 Cmmaj7 C-maj7 C-△7 C-△ Cm△ Cmin(maj7) Cm/maj7 Cm(#7)"],
  ["major-sixth", "C6 Cmaj6"],
  ["minor-sixth", "Cm6 C-6 Cmin6"],
  ["dominant-ninth", "C9"],
  ["major-ninth", "Cmaj9 CM9 C△9"],
  ["minor-ninth", "Cm9 C-9"],
  ["dominant-11th", "C11"],
  ["major-11th", "Cmaj11"],
  ["minor-11th", "Cm11 C-11"],
  ["dominant-13th", "C13"],
  ["major-13th", "Cmaj13 C△13"],
  ["minor-13th", "Cm13"],
  ["suspended-second", "Csus2"],
  ["suspended-fourth", "Csus Csus4 C4"],
  ["power", "C5"],
  ["major-sixth add 9", "C6/9 C69 C6add9 C6(9) C9/6"],
  ["minor-sixth add 9", "Cm6/9 Cm69 C-69"],
  ["major add 9", "Cadd9 C(add9) Cadd 9"],
  ["major add 2", "Cadd2 C2"],
  ["minor add 9", "Cmadd9 Cm(add9) C-add9"],
  ["suspended-fourth add 7", "C7sus4 C7sus C7(sus4) Csus7"],
  ["suspended-fourth add 7 add 9", "C9sus4 C9sus Csus9"],
  ["suspended-fourth add 7 add 9 add 13", "C13sus4 C13sus"],
  ["suspended-fourth add 7 add b9", "C7sus4b9 C7sus(b9) C7susb9 C7b9sus4"],
  ["dominant add b9", "C7b9 C7-9 C7(b9) C7♭9"],
  ["dominant add #9", "C7#9 C7+9 C7(#9)"],
  ["dominant add b9 add #11", "C7b9#11 C7(b9,#11) C7(b9)(#11) C7[b9 #11] C7b9,#11"],
  ["dominant alter b5", "C7b5 C7-5 C7(b5)"],
  ["dominant alter b5 add b9", "C7b5b9"],
  ["dominant add #11", "C7#11 C7+11"],
  ["dominant add 13", "C7(13) C7/13 C7add13"],
  ["dominant add b13", "C7b13"],
  ["dominant-ninth add #11", "C9#11"],
  ["dominant-13th alter b9", "C13b9 C13(b9)"],
  ["dominant-13th alter #11", "C13#11"],
  ["dominant-ninth alter #5", "C9+ C+9 Caug9 C9#5"],
  ["augmented-seventh add b9 add #9", "C7alt Calt C7(alt)"],
  ["augmented-seventh add #9", "C7#5#9 C+7#9 C7(#5,#9)"],
  ["major-seventh alter #5", "Cmaj7#5 C+maj7 C+M7 C△#5 Caug(maj7)"],
  ["major-seventh add #11", "Cmaj7#11 Cmaj7(#11) C△#11"],
  ["minor-seventh add 11", "Cm7(11) Cm7add11"],
  ["minor-seventh alter #5", "Cm7#5"],
  ["half-diminished add 9", "Cø9"],
  ["diminished add #7", "Cdim(maj7) C°maj7 C°(maj7)"],
  ["major subtract 3", "C(no3) Cno3 Comit3 C(omit 3) Cno3rd"],
  ["dominant subtract 5", "C7no5 C7(omit5)"],
];

describe.each(SPELLINGS)("C %s", (kind, spellings) => {
  test.each(spellings.split(/ (?=C)/))("%s", (text) => {
    expect(read(text)).toBe(`C ${kind}`);
  });
});

test.each([
  ["Bb7", "Bb dominant"],
  ["B♭7", "Bb dominant"],
  ["F♯m7♭5", "F# half-diminished"],
  ["Bbb", "Bbb major"],
  ["Bbb7", "Bbb dominant"],
  ["Abb5", "Ab major alter b5"],
  ["Gb9", "Gb dominant-ninth"],
  ["G#5", "G# power"],
  ["E𝄫maj7", "Ebb major-seventh"],
])("accidentals of the root and of degrees are told apart in %s", (text, expected) => {
  expect(read(text)).toBe(expected);
});

test.each([
  ["C/E", "C major/E"],
  ["Am7/G", "A minor-seventh/G"],
  ["C6/9/E", "C major-sixth add 9/E"],
  ["F#m7b5/C", "F# half-diminished/C"],
  ["Db / Ab", "Db major/Ab"],
  ["Bb∕F", "Bb major/F"],
])("a bass is what stands after the last slash: %s", (text, expected) => {
  expect(read(text)).toBe(expected);
});

test.each(["N.C.", "NC", "n.c.", "N. C.", "No Chord"])("%s is no chord", (text) => {
  expect(parseChordText(text)).toBe("no-chord");
});

test("private-use glyphs of music fonts are read as the signs they draw", () => {
  expect(read("B\ue260\ue8737")).toBe("Bb major-seventh");
  expect(read("F\ue262\ue8717")).toBe("F# half-diminished");
  expect(read("C\ue8707")).toBe("C diminished-seventh");
  expect(read("A\ue8747")).toBe("A minor-seventh");
  expect(read("C7\ue875\ued609\ue876")).toBe("C dominant add b9");
});

test("tones come out as they are meant to sound", () => {
  expect(tones("C7alt")).toBe("0 4 8 10 13 15");
  expect(tones("C13sus")).toBe("0 5 7 10 14 21");
  expect(tones("C7#9b13")).toBe("0 4 7 10 15 20");
  expect(tones("C7b9#9")).toBe("0 4 7 10 13 15");
  expect(tones("C9b9#9")).toBe("0 4 7 10 13 15");
  expect(tones("Cm9b5")).toBe("0 3 6 10 14");
  expect(tones("Cadd7")).toBe("0 4 7 10");
  expect(tones("Csus2sus4")).toBe("0 2 5 7");
});

test.each([
  "",
  "H7",
  "c7",
  "Coda",
  "Fine",
  "D.C.",
  "D.S. al Coda",
  "Adagio",
  "Allegro",
  "Bass",
  "Fast",
  "Gently",
  "Edit",
  "Swing",
  "Chorus",
  "A tempo",
  "Am I Blue",
  "C7(b9",
  "C7)",
  "Cxyz",
  "C8",
  "C7b8",
  "Cmm",
  "C77",
  "Csus5",
  "Cm+",
  "C/H",
  "C°6",
  "Verse 2",
  "Dal Segno",
  "Cue",
])("%j is no chord symbol", (text) => {
  expect(parseChordText(text)).toBeUndefined();
});

test("a suffix alone reads the same, and nothing is a major triad", () => {
  expect(parseChordSuffix("m7b5")).toEqual({ kind: "half-diminished", degrees: [] });
  expect(parseChordSuffix("")).toEqual({ kind: "major", degrees: [] });
  expect(parseChordSuffix("92")).toBeUndefined();
});

import { expect, test } from "vitest";
import { nameOf } from "../../src/song/pitch.js";
import { readText } from "../support/reading.js";
import { attributes, backup, FOUR_FOUR, harmony, leadSheet, note, score } from "../support/score-text.js";
import { chordText, melodyText } from "../support/tune-text.js";

const inB = "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>";
const oneBar = (head: string, inner: string) => score([{ bars: [attributes(FOUR_FOUR + head) + inner] }]);
const firstNote = (xml: string) => melodyText(readText(xml).tune)[0];

test("chords and key of a transposing part move with its notes, spelled by the staff's steps", () => {
  const bass = "<bass><bass-step>F</bass-step><bass-alter>1</bass-alter></bass>";
  const xml = score([
    {
      bars: [
        attributes(`<key><fifths>2</fifths></key>${FOUR_FOUR}${inB}`) +
          harmony("D", "major", bass) +
          note("F#4", 8) +
          harmony("Eb") +
          note("A4", 8),
      ],
    },
  ]);
  const { tune } = readText(xml);
  expect(chordText(tune)).toEqual(["1:1 C major/E", "1:3 Db major"]);
  expect(melodyText(tune)).toEqual(["1:1 E4 2", "1:3 G4 2"]);
  expect(tune.keys).toEqual([{ at: 0, fifths: 0, mode: undefined }]);
});

test("without staff steps a transposition is spelled the usual way", () => {
  expect(
    firstNote(oneBar("<transpose><chromatic>-2</chromatic></transpose>", harmony("D") + note("F#4", 16))),
  ).toBe("1:1 E4 4");
  expect(
    firstNote(oneBar("<transpose><chromatic>-9</chromatic></transpose>", harmony("D") + note("A4", 16))),
  ).toBe("1:1 C4 4");
});

test("an octave change moves the notes and never the chord names; the clef moves nothing", () => {
  const clef = "<clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>";
  const octave =
    "<transpose><diatonic>0</diatonic><chromatic>0</chromatic><octave-change>-1</octave-change></transpose>";
  const { tune } = readText(oneBar(clef + octave, harmony("C") + note("E5", 16)));
  expect(melodyText(tune)).toEqual(["1:1 E4 4"]);
  expect(chordText(tune)).toEqual(["1:1 C major"]);
  expect(firstNote(oneBar(clef, harmony("C") + note("E4", 16)))).toBe("1:1 E4 4");
});

test("divisions change from their place in the file, transpositions from their time", () => {
  const inner = `${harmony("C")}${note("C4", 4)}${note("D4", 4)}<attributes><divisions>8</divisions>${inB}</attributes>${note("D4", 16, { type: "<type>half</type>" })}${backup(32)}${note("C3", 32, { voice: 2, type: "<type>whole</type>" })}`;
  const xml = oneBar("", inner);
  expect(melodyText(readText(xml).tune)).toEqual(["1:1 C4 1", "1:2 D4 1", "1:3 C4 2"]);
  expect(melodyText(readText(xml, "P1:2").tune)).toEqual(["1:1 C3 4"]);
});

test("a transposition of one staff leaves the other alone", () => {
  const onSecond =
    '<staves>2</staves><transpose number="2"><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>';
  expect(firstNote(oneBar(onSecond, harmony("C") + note("C5", 16, { staff: 1 })))).toBe("1:1 C5 4");
  expect(firstNote(oneBar(onSecond.replace('2"', '1"'), harmony("C") + note("C5", 16, { staff: 1 })))).toBe(
    "1:1 Bb4 4",
  );
});

test("a transposition meant for another view of the part is ignored", () => {
  const forPart =
    '<for-part id="x"><part-transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></part-transpose></for-part>';
  expect(firstNote(oneBar(forPart, harmony("C") + note("C5", 16)))).toBe("1:1 C5 4");
});

test("an octave bracket is drawing", () => {
  const bracket =
    '<direction><direction-type><octave-shift type="down" size="8"/></direction-type></direction>';
  expect(firstNote(leadSheet(harmony("C") + bracket + note("C6", 16)))).toBe("1:1 C6 4");
});

test("the alteration decides, not the accidental, and a quarter tone goes to the nearest semitone with a warning", () => {
  const sharpSign = "<accidental>sharp</accidental>";
  expect(firstNote(leadSheet(harmony("C") + note("F4", 16, { after: sharpSign })))).toBe("1:1 F4 4");
  const quarterTone = leadSheet(harmony("C") + note("E4", 16, { alter: "-0.5" }));
  expect(readText(quarterTone).tune.melody[0]?.midi).toBe(64);
  expect(readText(quarterTone).findings.all.map(({ rule }) => rule)).toEqual(["quarter-tone"]);
  expect(readText(leadSheet(harmony("C") + note("E4", 16, { alter: "-0.75" }))).tune.melody[0]?.midi).toBe(
    63,
  );
});

test("keys: none is no sharps or flats, a mode is kept, an unusual one is said", () => {
  const keys = (key: string) => readText(oneBar(key, harmony("C") + note("C5", 16)));
  expect(keys("").tune.keys).toEqual([{ at: 0, fifths: 0, mode: undefined }]);
  expect(keys("<key><fifths>-3</fifths><mode>minor</mode></key>").tune.keys).toEqual([
    { at: 0, fifths: -3, mode: "minor" },
  ]);
  expect(keys("<key><fifths>1</fifths><mode>none</mode></key>").tune.keys).toEqual([
    { at: 0, fifths: 1, mode: undefined },
  ]);
  const unusual = keys(
    "<key><key-step>F</key-step><key-alter>1</key-alter><key-step>B</key-step><key-alter>-1</key-alter></key>",
  );
  expect(unusual.tune.keys).toEqual([{ at: 0, fifths: 0, mode: undefined }]);
  expect(unusual.findings.all.map(({ rule }) => rule)).toEqual(["key-unusual"]);
});

test("a part without a key is written in one without sharps or flats, which sounds as far away as its notes do", () => {
  const keysFor = (transpose: string, key = "") =>
    readText(oneBar(key + transpose, harmony("C") + note("C5", 16))).tune.keys;
  expect(keysFor(inB)).toEqual([{ at: 0, fifths: -2, mode: undefined }]);
  const chromatically = (chromatic: number) =>
    keysFor(`<transpose><chromatic>${chromatic}</chromatic></transpose>`)[0]?.fifths;
  expect([-9, -7, -5, -3, -12, 3].map(chromatically)).toEqual([-3, -1, 1, 3, 0, -3]);
  const later = score([
    {
      bars: [
        attributes(FOUR_FOUR + inB) + harmony("C") + note("C5", 16),
        `<attributes><key><fifths>1</fifths></key></attributes>${note("C5", 16)}`,
      ],
    },
  ]);
  expect(readText(later).tune.keys.map(({ fifths }) => fifths)).toEqual([-2, -1]);
});

test("a melody note keeps the spelling it came with", () => {
  const { tune } = readText(leadSheet(harmony("C") + note("A#4", 8) + note("Bb4", 8)));
  expect(tune.melody.map(({ pitch, midi }) => `${nameOf(pitch)} ${midi}`)).toEqual(["A# 70", "Bb 70"]);
});

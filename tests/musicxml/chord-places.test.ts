import { expect, test } from "vitest";
import { readText } from "../support/reading.js";
import {
  attributes,
  backup,
  forward,
  harmony,
  leadSheet,
  note,
  offset,
  rest,
  score,
} from "../support/score-text.js";
import { chordText, melodyText } from "../support/tune-text.js";

const rules = (xml: string) => readText(xml).findings.all.map(({ rule }) => rule);

test("two chords before one long note stand where their offsets put them", () => {
  const { tune } = readText(leadSheet(harmony("C") + harmony("A", "minor", offset(8)) + note("G4", 16)));
  expect(chordText(tune)).toEqual(["1:1 C major", "1:3 A minor"]);
  expect(melodyText(tune)).toEqual(["1:1 G4 4"]);
});

test("a chord written after its note reaches back to it by a negative offset", () => {
  const xml = leadSheet(harmony("C") + note("G4", 8) + note("A4", 8) + harmony("F", "major", offset(-8)));
  expect(chordText(readText(xml).tune)).toEqual(["1:1 C major", "1:3 F major"]);
});

test("a chord reached by backup and forward leaves no rests, no voice and no longer bar", () => {
  const { tune, source } = readText(
    leadSheet(
      harmony("C") + note("G4", 16) + backup(16) + forward(8) + harmony("F") + forward(8),
      note("A4", 16),
    ),
  );
  expect(chordText(tune)).toEqual(["1:1 C major", "1:3 F major"]);
  expect(source.written.map(({ kind }) => kind)).toEqual(["note", "note"]);
  expect(melodyText(tune)).toEqual(["1:1 G4 4", "2:1 A4 4"]);
});

test("chords over a bar's rest keep their beats", () => {
  const bar = `${harmony("C")}${harmony("G", "dominant", offset(8))}<note><rest measure="yes"/><duration>16</duration></note>`;
  const { tune } = readText(leadSheet(bar, note("E4", 16)));
  expect(chordText(tune)).toEqual(["1:1 C major", "1:3 G dominant"]);
  expect(melodyText(tune)).toEqual(["2:1 E4 4"]);
});

test("a chord after the last note of a full bar belongs to the next bar, with a warning", () => {
  const xml = leadSheet(harmony("C") + note("G4", 16) + harmony("F"), note("A4", 16));
  expect(chordText(readText(xml).tune)).toEqual(["1:1 C major", "2:1 F major"]);
  expect(rules(xml)).toEqual(["chord-at-bar-end"]);
});

test("a chord after the last note gives way to the next bar's own", () => {
  const xml = leadSheet(harmony("C") + note("G4", 16) + harmony("F"), harmony("D", "minor") + note("A4", 16));
  expect(chordText(readText(xml).tune)).toEqual(["1:1 C major", "2:1 D minor"]);
  expect(rules(xml)).toEqual(["chord-at-bar-end"]);
});

test("a closing backup, chord and forward does not push the next bar late", () => {
  const { tune } = readText(
    leadSheet(harmony("C") + note("G4", 16) + backup(4) + harmony("F") + forward(4), note("A4", 16)),
  );
  expect(tune.measures.map(({ length }) => length / tune.ticksPerQuarter)).toEqual([4, 4]);
  expect(chordText(tune)).toEqual(["1:1 C major", "1:4 F major"]);
});

test("an alternate reading of a chord is written back but not harmonised", () => {
  const xml = leadSheet(
    harmony("A", "minor", "", 'type="alternate"') +
      harmony("C", "major", "", 'type="explicit"') +
      note("G4", 16),
  );
  const { tune, source } = readText(xml);
  expect(chordText(tune)).toEqual(["1:1 C major"]);
  expect(source.measures[0]?.harmonies.map(({ chord }) => chord === undefined)).toEqual([true, false]);
  expect(rules(xml)).toEqual([]);
});

const drawn = (root: string, right: number) => harmony(root, "major", "", `relative-x="${right}"`);

test("two chords on one beat of a long note are spread over it, with a warning", () => {
  const xml = leadSheet(harmony("C") + harmony("A", "minor") + note("G4", 16));
  expect(chordText(readText(xml).tune)).toEqual(["1:1 C major", "1:3 A minor"]);
  expect(rules(xml)).toEqual(["chords-spread"]);
  expect(readText(xml).findings.all[0]).toMatchObject({
    place: { measure: 1, beat: 1 },
    message: "Two chord symbols stand on one beat; they were spread over beats 1 and 3.",
  });
});

test("where the beats cannot be shared out evenly the earlier chords get more", () => {
  const three = harmony("C") + harmony("F") + harmony("G");
  expect(chordText(readText(leadSheet(three + note("G4", 16))).tune)).toEqual([
    "1:1 C major",
    "1:3 F major",
    "1:4 G major",
  ]);
  const waltz = score([
    {
      bars: [
        attributes("<time><beats>3</beats><beat-type>4</beat-type></time>") +
          harmony("C") +
          harmony("G") +
          note("G4", 12),
      ],
    },
  ]);
  expect(chordText(readText(waltz).tune)).toEqual(["1:1 C major", "1:3 G major"]);
});

test("a short note keeps its first chord, unless the second was drawn to the right of it", () => {
  const rest3 = note("A4", 4) + note("B4", 8);
  const plain = leadSheet(harmony("C") + harmony("F") + note("G4", 4) + rest3);
  expect(chordText(readText(plain).tune)).toEqual(["1:1 C major"]);
  expect(rules(plain)).toEqual(["chords-at-one-time"]);
  const apart = leadSheet(harmony("C") + drawn("F", 1400) + note("G4", 4) + rest3);
  expect(chordText(readText(apart).tune)).toEqual(["1:1 C major", "1:3 F major"]);
});

test("chords on one beat leave the bar's next chord its place", () => {
  const xml = leadSheet(harmony("C") + drawn("F", 90) + note("G4", 8) + harmony("G") + note("A4", 8));
  expect(chordText(readText(xml).tune)).toEqual(["1:1 C major", "1:2 F major", "1:3 G major"]);
  const full = leadSheet(harmony("C") + drawn("F", 90) + note("G4", 4) + harmony("G") + note("A4", 12));
  expect(chordText(readText(full).tune)).toEqual(["1:1 C major", "1:2 G major"]);
  expect(rules(full)).toEqual(["chords-at-one-time"]);
});

test("a chord that stands on the next beat by itself as well has its place there", () => {
  const xml = leadSheet(harmony("C") + harmony("F") + note("G4", 8) + harmony("F") + note("A4", 8));
  expect(chordText(readText(xml).tune)).toEqual(["1:1 C major", "1:3 F major"]);
  expect(rules(xml)).toEqual([]);
});

test("chords on one beat keep the order of the file, wherever they are drawn", () => {
  const xml = leadSheet(drawn("F", 80) + harmony("C") + note("G4", 16));
  expect(chordText(readText(xml).tune)).toEqual(["1:1 F major", "1:3 C major"]);
});

test("the same chord twice on one beat is one chord", () => {
  const xml = leadSheet(harmony("C") + harmony("C") + harmony("F") + harmony("F") + note("G4", 16));
  expect(chordText(readText(xml).tune)).toEqual(["1:1 C major", "1:3 F major"]);
});

test("in cut time three chords on one beat go to quarters", () => {
  const cut = "<time><beats>2</beats><beat-type>2</beat-type></time>";
  const chords = harmony("C") + harmony("F") + harmony("G");
  const { tune } = readText(score([{ bars: [attributes(cut) + chords + note("G4", 16)] }]));
  expect(chordText(tune)).toEqual(["1:1 C major", "1:3 F major", "1:4 G major"]);
});

test("an implied chord beside an explicit one is not spread", () => {
  const xml = leadSheet(harmony("C") + harmony("F", "major", "", 'type="implied"') + note("G4", 16));
  expect(chordText(readText(xml).tune)).toEqual(["1:1 C major"]);
});

test("a hidden chord symbol is still the harmony", () => {
  const xml = leadSheet(harmony("C", "major", "", 'print-object="no"') + note("G4", 16));
  expect(chordText(readText(xml).tune)).toEqual(["1:1 C major"]);
});

test("a chord after the end of the tune is left out, with a warning", () => {
  const xml = leadSheet(harmony("C") + note("G4", 16) + harmony("F"));
  expect(chordText(readText(xml).tune)).toEqual(["1:1 C major"]);
  expect(rules(xml)).toEqual(["chord-after-end"]);
});

test("notes before the first chord are a pickup", () => {
  const { tune } = readText(leadSheet(rest(12) + note("G4", 4), harmony("C") + note("C5", 16)));
  expect(tune.melody.map(({ isPickup }) => isPickup)).toEqual([true, false]);
});

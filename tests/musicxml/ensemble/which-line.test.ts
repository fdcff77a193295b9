import { describe, expect, test } from "vitest";
import { Findings, ScoreError } from "../../../src/diagnostics.js";
import { readLeadSheet } from "../../../src/musicxml/lead-sheet/read-lead-sheet.js";
import { parseXml } from "../../../src/xml/parse-xml.js";
import { ensembleFromText } from "../../support/ensemble-from-text.js";
import { readText } from "../../support/reading.js";
import { attributes, backup, FOUR_FOUR, harmony, note, rest, score } from "../../support/score-text.js";
import { chordText, melodyText } from "../../support/tune-text.js";

const CHOIR = ensembleFromText(`title: Four in a Boat
key: 0 major
time: 4/4

part: Bass
clef: F
C3/2 B2/2 | C3/1 ||

part: Soprano
E5/4"Four" D5/4"in" D5/2"a" | C5/1"boat" ||

part: Alto
G4/2 G4/2 | G4/1 ||

part: Tenor
clef: F
C4/2 G3/4 A3/4 | G3/1 ||`);

const melodyOf = (xml: string, melody?: string) => melodyText(readText(xml, melody).tune);
const messages = (xml: string, melody?: string) =>
  readText(xml, melody).findings.all.map(({ message }) => message);

function errorOf(work: () => unknown): ScoreError {
  try {
    work();
  } catch (error) {
    if (error instanceof ScoreError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}

describe("Where nobody says which line is the tune", () => {
  test("it is the only one with words, and the others are said", () => {
    expect(melodyOf(CHOIR)).toEqual(["1:1 E5 1", "1:2 D5 1", "1:3 D5 2", "2:1 C5 4"]);
    expect(messages(CHOIR)).toContainEqual(
      "The tune was taken from P2 (Soprano), since it is the only one with words; there are also P1 (Bass), P3 (Alto), P4 (Tenor).",
    );
  });

  test("without words it is the one that lies highest", () => {
    const wordless = CHOIR.replace(/<lyric.*?<\/lyric>/gs, "");
    expect(melodyOf(wordless)[0]).toBe("1:1 E5 1");
    expect(messages(wordless)[0]).toContain("since it lies highest");
  });

  test("chord symbols mark their part before all else", () => {
    const xml = score([
      { id: "P1", bars: [attributes(FOUR_FOUR) + note("C5", 16)] },
      { id: "P2", bars: [attributes(FOUR_FOUR) + harmony("C") + note("E4", 16)] },
    ]);
    expect(melodyOf(xml)).toEqual(["1:1 E4 4"]);
    expect(messages(xml)[0]).toContain("since the chord symbols stand over it");
  });
});

describe("A line that is named", () => {
  test("may be any part, by name", () => {
    expect(melodyOf(CHOIR, "tenor")).toEqual(["1:1 C4 2", "1:3 G3 1", "1:4 A3 1", "2:1 G3 4"]);
  });

  const divided = score([
    {
      bars: [
        attributes(FOUR_FOUR) +
          note("G4", 8, { voice: 1 }) +
          note("E4", 8, { voice: 1 }) +
          backup(16) +
          note("E4", 4, { voice: 2 }) +
          note("F4", 4, { voice: 2 }) +
          note("A4", 8, { voice: 2 }),
      ],
    },
  ]);

  test("may be the top of a part: a note under a higher one that sounds on is not in it", () => {
    expect(melodyOf(divided, "P1:top")).toEqual(["1:1 G4 2", "1:3 A4 2"]);
  });

  test("may be the top of the whole score", () => {
    expect(melodyOf(CHOIR, "top")).toEqual(["1:1 E5 1", "1:2 D5 1", "1:3 D5 2", "2:1 C5 4"]);
  });

  test("may go to another part for some measures", () => {
    const findings = new Findings();
    const { tune } = readLeadSheet(parseXml(CHOIR).root, { melody: "Soprano" }, findings, [
      { measures: [2], melody: "Tenor" },
    ]);
    expect(melodyText(tune)).toEqual(["1:1 E5 1", "1:2 D5 1", "1:3 D5 2", "2:1 G3 4"]);
  });

  test("cannot go where there are no measures", () => {
    const asked = [{ measures: [2, 9] as const, melody: "Tenor" }];
    const read = () => readLeadSheet(parseXml(CHOIR).root, { melody: "auto" }, new Findings(), asked);
    expect(errorOf(read).finding.expected).toContain("measures from 1 to 2");
  });
});

describe("A voice that goes to the other staff", () => {
  test("is one line where that staff leaves it alone", () => {
    const xml = score([
      {
        bars: [
          attributes(`${FOUR_FOUR}<staves>2</staves>`) +
            harmony("C") +
            note("E4", 8, { voice: 1, staff: 1 }) +
            note("A3", 8, { voice: 1, staff: 2 }) +
            backup(16) +
            note("C3", 16, { voice: 5, staff: 2 }),
        ],
      },
    ]);
    expect(melodyOf(xml)).toEqual(["1:1 E4 2", "1:3 A3 2"]);
  });

  test("is two where both staves have a voice of its number", () => {
    const xml = score([
      {
        bars: [
          attributes(`${FOUR_FOUR}<staves>2</staves>`) +
            harmony("C") +
            note("E4", 16, { voice: 1, staff: 1 }) +
            backup(16) +
            note("C3", 16, { voice: 1, staff: 2 }),
        ],
      },
    ]);
    expect(melodyOf(xml)).toEqual(["1:1 E4 4"]);
  });
});

describe("Chords", () => {
  test("are worked out from the voices where none are written, and that is said", () => {
    const { tune, findings } = readText(CHOIR);
    expect(chordText(tune)).toEqual(["1:1 C major", "1:3 G major/B", "2:1 C major"]);
    expect(findings.all.map(({ rule }) => rule)).toContain("chords-from-voices");
  });

  test("are worked out in sounding pitch, whatever key a part is written in", () => {
    const trio = ensembleFromText(`title: Three Reeds
key: 0 major
time: 4/4

part: Flute
E5/2 D5/2 ||

part: Clarinet in B flat
transpose: -1 -2
key: 2 major
A4/2 A4/2 ||

part: Horn in F
transpose: -4 -7
key: 1 major
G4/2 F#4/2 ||`);
    expect(chordText(readText(trio).tune)).toEqual(["1:1 C major", "1:3 G major/B"]);
  });

  test("that are written count, unless the voices are asked for", () => {
    const xml = score([
      { id: "P1", bars: [attributes(FOUR_FOUR) + harmony("A", "minor") + note("E5", 16)] },
      {
        id: "P2",
        bars: [attributes(FOUR_FOUR) + note("C3", 16) + note("G4", 16, { chord: true })],
      },
    ]);
    expect(chordText(readText(xml).tune)).toEqual(["1:1 A minor"]);
    const { tune } = readLeadSheet(parseXml(xml).root, { melody: "auto", chords: "voices" }, new Findings());
    expect(chordText(tune)).toEqual(["1:1 C major"]);
  });

  test("cannot be heard in voices that never sound together", () => {
    const turns = score([
      { id: "P1", bars: [attributes(FOUR_FOUR) + note("E5", 16), rest(16)] },
      { id: "P2", bars: [attributes(FOUR_FOUR) + rest(16), note("C4", 16)] },
    ]);
    const { finding } = errorOf(() => readText(turns));
    expect(finding.rule).toBe("no-chord-symbols");
    expect(finding.message).toContain("hardly sound together");
  });
});

test("a final barline before the end is said: the file may hold several tunes", () => {
  const ends = '<barline location="right"><bar-style>light-heavy</bar-style></barline>';
  const xml = score([
    {
      bars: [
        attributes(FOUR_FOUR) + harmony("C") + note("C5", 16) + ends,
        note("D5", 16),
        note("E5", 16) + ends,
      ],
    },
  ]);
  const said = readText(xml).findings.all.filter(({ rule }) => rule === "several-tunes");
  expect(said.map(({ place }) => place.measure)).toEqual([1]);
});

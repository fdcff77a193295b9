import { describe, expect, test } from "vitest";
import { textOfFinding } from "../../src/diagnostics.js";
import { readText } from "../support/reading.js";
import {
  attributes,
  backup,
  FOUR_FOUR,
  forward,
  harmony,
  leadSheet,
  note,
  rest,
  score,
} from "../support/score-text.js";
import { melodyText } from "../support/tune-text.js";

const rules = (xml: string) => readText(xml).findings.all.map(({ rule }) => rule);
const tuplet = (actual: number, normal: number, type: string) =>
  `<type>${type}</type><time-modification><actual-notes>${actual}</actual-notes><normal-notes>${normal}</normal-notes></time-modification>`;
const C = harmony("C");
const lengths = (xml: string) => {
  const { tune } = readText(xml);
  return tune.measures.map(({ length }) => length / tune.ticksPerQuarter);
};

test("a quarter of 852720 divisions holds triplets and quintuplets exactly, and the tick is the smallest that does", () => {
  const triplets = Array.from({ length: 3 }, () => note("C5", 284240, { type: tuplet(3, 2, "eighth") })).join(
    "",
  );
  const quintuplets = Array.from({ length: 5 }, () =>
    note("D5", 170544, { type: tuplet(5, 4, "16th") }),
  ).join("");
  const half = note("E5", 1705440, { type: "<type>half</type>" });
  const { tune } = readText(
    score([{ bars: [attributes(FOUR_FOUR, 852720) + C + triplets + quintuplets + half] }]),
  );
  expect(tune.ticksPerQuarter).toBe(15);
  expect(tune.melody.map(({ length }) => length)).toEqual([5, 5, 5, 3, 3, 3, 3, 3, 30]);
});

test("a triplet written as 0.333333 three times is a third each", () => {
  const triplets = Array.from({ length: 3 }, () =>
    note("C5", "0.333333", { type: tuplet(3, 2, "eighth") }),
  ).join("");
  const untyped = Array.from({ length: 3 }, () => note("D5", "0.333333")).join("");
  const { tune } = readText(
    score([
      {
        bars: [
          attributes(FOUR_FOUR, 1) + C + triplets + untyped + note("E5", 2, { type: "<type>half</type>" }),
        ],
      },
    ]),
  );
  expect(tune.ticksPerQuarter).toBe(3);
  expect(tune.measures[0]?.length).toBe(12);
});

test("a bar of any whole number of divisions is exact, and a backup over it leads to its start", () => {
  const durations = [126, 378, 16, 8, 1, 126, 126];
  const { tune } = readText(
    score([
      {
        bars: [
          attributes(FOUR_FOUR, 252) +
            C +
            durations.map((duration) => note("C5", duration)).join("") +
            backup(781) +
            forward(252) +
            harmony("F") +
            forward(529),
        ],
      },
    ]),
  );
  const quarters = (ticks: number) => (ticks / tune.ticksPerQuarter) * 252;
  expect(tune.melody.map(({ length }) => quarters(length))).toEqual(durations);
  expect(tune.chords.map(({ start }) => quarters(start))).toEqual([0, 252]);
  expect(tune.ticksPerQuarter).toBe(252);
});

test("a duration such as 3/2 is an error with its place", () => {
  const xml = leadSheet(C + note("C5", 8) + note("C5", "3/2"));
  expect(() => readText(xml)).toThrow(/3\/2/);
  try {
    readText(xml);
  } catch (error) {
    expect(error).toMatchObject({
      finding: { rule: "duration-unreadable", place: { part: "P1", measure: 1, beat: 3 } },
    });
  }
});

test("durations that fill the bar are trusted over types", () => {
  const xml = leadSheet(C + note("C5", 16, { type: "<type>half</type>" }));
  expect(melodyText(readText(xml).tune)).toEqual(["1:1 C5 4"]);
  expect(rules(xml)).toEqual([]);
});

test("types that fill the bar are trusted where durations do not, and chords stay with their notes", () => {
  const xml = leadSheet(
    C +
      note("C5", 48, { type: "<type>half</type>" }) +
      harmony("F") +
      note("D5", 48, { type: "<type>half</type>" }) +
      backup(96) +
      note("C4", 96, { voice: 2, type: "<type>whole</type>" }),
    note("E5", 16),
  );
  const { tune } = readText(xml);
  expect(melodyText(tune)).toEqual(["1:1 C5 2", "1:3 D5 2", "2:1 E5 4"]);
  expect(tune.chords[1]?.start).toBe(tune.melody[1]?.onset);
  expect(rules(xml)).toContain("duration-contradicts-type");
});

test("seven sixteenths in 480 divisions are sevenths, and the backup after them finds the bar's start", () => {
  const sevens = Array.from({ length: 7 }, () =>
    note("C5", 68, { voice: 1, type: tuplet(7, 4, "16th") }),
  ).join("");
  const xml = score([
    {
      bars: [
        attributes(FOUR_FOUR, 480) +
          C +
          sevens +
          note("D5", 1440, { voice: 1, type: "<type>half</type><dot/>" }) +
          backup(1916) +
          harmony("F", "major", "<offset>480</offset>") +
          note("C4", 1920, { voice: 2, type: "<type>whole</type>" }),
        note("E5", 1920, { type: "<type>whole</type>" }),
      ],
    },
  ]);
  const { tune } = readText(xml);
  expect(tune.ticksPerQuarter).toBe(7);
  expect(tune.measures.map(({ length }) => length)).toEqual([28, 28]);
  expect(tune.chords[1]?.start).toBe(7);
});

test("missing divisions are taken from the first note's type, with a warning", () => {
  const xml = score([
    {
      bars: [
        `<attributes>${FOUR_FOUR}</attributes>${C}${note("C5", 6, { type: "<type>half</type>" })}${note("D5", 6, { type: "<type>half</type>" })}`,
      ],
    },
  ]);
  expect(melodyText(readText(xml).tune)).toEqual(["1:1 C5 2", "1:3 D5 2"]);
  expect(rules(xml)).toEqual(["divisions-missing"]);
});

test("missing divisions that no note gives away are taken from what most bars hold", () => {
  const bare = (name: string, duration: number) => note(name, duration, { type: " " });
  const xml = score([
    {
      bars: [
        `<attributes>${FOUR_FOUR}</attributes>${C}${bare("C5", 96)}`,
        bare("D5", 192) + bare("E5", 192),
        bare("F5", 384),
      ],
    },
  ]);
  expect(melodyText(readText(xml).tune)).toEqual(["1:1 C5 1", "2:1 D5 2", "2:3 E5 2", "3:1 F5 4"]);
  expect(readText(xml).findings.all[0]?.message).toBe(
    "Nothing says how many divisions a quarter note has; 96 was taken, from what most bars hold.",
  );
});

test("missing divisions that nothing gives away are an error that names part and bar", () => {
  const xml = score([
    {
      bars: [
        `<attributes>${FOUR_FOUR}</attributes>${C}${note("C5", 7)}`,
        note("D5", 6, { type: " " }),
        note("E5", 5),
      ],
    },
  ]);
  try {
    readText(xml);
    expect.unreachable();
  } catch (error) {
    expect(error).toMatchObject({
      finding: { rule: "divisions-missing", place: { part: "P1", measure: 1 } },
    });
  }
});

test("notes without a type are read by their duration", () => {
  const xml = leadSheet(C + note("C5", 10) + rest(6, { type: "" }));
  expect(melodyText(readText(xml).tune)).toEqual(["1:1 C5 2.5"]);
});

test("a whole-bar rest in a pickup of one beat lasts one beat", () => {
  const xml = leadSheet('<note><rest measure="yes"/><duration>4</duration></note>', C + note("C5", 16));
  expect(lengths(xml)).toEqual([1, 4]);
});

test("a short first bar stays short, with beats from its start and weight from its end", () => {
  const { tune, findings } = readText(leadSheet(note("G4", 4), C + note("C5", 16)));
  expect(melodyText(tune)).toEqual(["1:1 G4 1", "2:1 C5 4"]);
  expect(tune.melody.map(({ weight }) => weight)).toEqual([1, 3]);
  expect(findings.all).toEqual([]);
});

test("bar numbers are labels, given beside the bar's position", () => {
  const whole = (name: string) => note(name, 16);
  const xml = score([
    {
      bars: [
        { number: "1", inner: attributes(FOUR_FOUR) + C + whole("C5") },
        { number: "12a", inner: note("D5", 8), attributes: 'implicit="yes"' },
        { number: "X1", inner: note("E5", 8) + whole("F5") },
      ],
    },
  ]);
  const { tune, findings } = readText(xml);
  expect(tune.measures.map(({ label }) => label)).toEqual(["1", "12a", "X1"]);
  expect(findings.all.map(textOfFinding)).toEqual([
    expect.stringMatching(/^part P1, measure 3 \(numbered X1\): warning: The bar is 2 quarters too long/),
  ]);
});

test("an empty bar, or one of a forward of nothing, lasts its time signature", () => {
  const xml = leadSheet(C + note("C5", 16), "", forward(0), note("E5", 16));
  expect(lengths(xml)).toEqual([4, 4, 4, 4]);
  const { source } = readText(xml);
  expect(source.written.map(({ kind, measure }) => `${measure} ${kind}`)).toEqual([
    "0 note",
    "1 rest",
    "2 rest",
    "3 note",
  ]);
});

test("without a time signature a bar is as long as its content", () => {
  const bar = (count: number) => Array.from({ length: count }, () => note("C5", 4)).join("");
  const xml = score([{ bars: [attributes("") + C + bar(5), bar(3)] }]);
  expect(lengths(xml)).toEqual([5, 3]);
  expect(readText(xml).tune.measures[0]?.meter).toBeUndefined();
});

describe("Time signatures", () => {
  const meter = (time: string, ...bars: string[]) =>
    readText(score([{ bars: [attributes(time) + C + (bars[0] ?? note("C5", 4)), ...bars.slice(1)] }])).tune;

  test("a sum of beats is added up", () => {
    expect(
      meter("<time><beats>3+2</beats><beat-type>8</beat-type></time>", note("C5", 10)).measures[0]?.meter,
    ).toEqual({ beats: 5, beatType: 8 });
  });

  test("several signatures are added to one", () => {
    const both =
      "<time><beats>2</beats><beat-type>4</beat-type><beats>3</beats><beat-type>8</beat-type></time>";
    expect(meter(both).measures[0]?.meter).toEqual({ beats: 7, beatType: 8 });
  });

  test("senza misura is no meter", () => {
    const tune = meter("<time><senza-misura/></time>", note("C5", 16) + note("D5", 16));
    expect(tune.measures[0]?.meter).toBeUndefined();
    expect(tune.measures[0]?.length).toBe(8 * tune.ticksPerQuarter);
  });

  test.each([
    ["4/4", 4, 4, [3, 0, 1, 0, 2, 0, 1, 0]],
    ["3/4", 3, 4, [3, 0, 1, 0, 1, 0]],
    ["6/8", 6, 8, [3, 0, 0, 2, 0, 0]],
  ])("%s weighs its eighths", (_, beats, beatType, weights) => {
    const time = `<time><beats>${beats}</beats><beat-type>${beatType}</beat-type></time>`;
    const tune = meter(time, weights.map(() => note("C5", 2)).join(""));
    expect(tune.melody.map(({ weight }) => weight)).toEqual(weights);
  });
});

test("an overfull bar keeps its notes, the next begins after it, and the amount is said", () => {
  const xml = leadSheet(C + note("C5", 16) + note("D5", 4), note("E5", 16));
  expect(melodyText(readText(xml).tune)).toEqual(["1:1 C5 4", "1:5 D5 1", "2:1 E5 4"]);
  expect(readText(xml).findings.all.map(({ message }) => message)).toEqual([
    "The bar is 1 quarter too long for its time signature; its notes were kept as they are.",
  ]);
});

test("an underfull bar in the middle is said, the halves of a split bar are not", () => {
  expect(rules(leadSheet(C + note("C5", 16), note("D5", 8), note("E5", 16), note("F5", 16)))).toEqual([
    "bar-length",
  ]);
  expect(rules(leadSheet(C + note("C5", 16), note("D5", 12), note("E5", 4), note("F5", 16)))).toEqual([]);
});

test("a gap in the tune's voice is silence, a gap that is filled is nothing", () => {
  const gap = leadSheet(C + note("C5", 4, { voice: 1 }) + forward(4) + note("D5", 8, { voice: 1 }));
  const { source, tune } = readText(gap);
  expect(source.written.map(({ kind, element }) => [kind, element === undefined])).toEqual([
    ["note", false],
    ["rest", true],
    ["note", false],
  ]);
  expect(melodyText(tune)).toEqual(["1:1 C5 1", "1:3 D5 2"]);
  const filled = leadSheet(
    C + note("C5", 8, { voice: 1 }) + backup(8) + forward(8) + note("D5", 8, { voice: 1 }),
  );
  expect(readText(filled).source.written.map(({ kind }) => kind)).toEqual(["note", "note"]);
});

test("tempo marks count in quarter notes a minute", () => {
  const mark = (inner: string) => `<direction><direction-type>${inner}</direction-type></direction>`;
  const dotted = mark(
    "<metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>80</per-minute></metronome>",
  );
  const { tune } = readText(
    leadSheet(`${dotted}${C}${note("C5", 16)}`, `<sound tempo="96"/>${note("D5", 16)}`),
  );
  expect(tune.tempos).toEqual([
    { at: 0, quartersPerMinute: 120 },
    { at: 4 * tune.ticksPerQuarter, quartersPerMinute: 96 },
  ]);
});

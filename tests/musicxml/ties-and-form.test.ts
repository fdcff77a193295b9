import { describe, expect, test } from "vitest";
import { readText } from "../support/reading.js";
import { attributes, FOUR_FOUR, harmony, leadSheet, note, score } from "../support/score-text.js";
import { chordText, melodyText } from "../support/tune-text.js";

const C = harmony("C");
const melodyOf = (xml: string) => melodyText(readText(xml).tune);
const tied = (...types: string[]) =>
  `<notations>${types.map((type) => `<tied type="${type}"/>`).join("")}</notations>`;

describe("Ties", () => {
  test("join by sound, not by letter", () => {
    expect(
      melodyOf(leadSheet(C + note("F#4", 8, { tie: "start" }) + note("Gb4", 8, { tie: "stop" }))),
    ).toEqual(["1:1 F#4 4"]);
  });

  test("join across barlines, with start before stop, and without any stop", () => {
    const bothWays = note("E5", 16, { after: tied("start", "stop") });
    const xml = leadSheet(C + note("E5", 16, { tie: "start" }), bothWays, note("E5", 16));
    expect(melodyOf(xml)).toEqual(["1:1 E5 12"]);
    const { source } = readText(xml);
    expect(source.written.map(({ melodyNote, tiedOn }) => [melodyNote, tiedOn])).toEqual([
      [0, true],
      [0, true],
      [0, false],
    ]);
  });

  test("by the drawn sign alone join too, but a let-ring mark does not", () => {
    expect(melodyOf(leadSheet(C + note("E5", 8, { after: tied("start") }) + note("E5", 8)))).toEqual([
      "1:1 E5 4",
    ]);
    expect(melodyOf(leadSheet(C + note("E5", 8, { after: tied("let-ring") }) + note("E5", 8)))).toHaveLength(
      2,
    );
  });

  test("do not join over a gap, to another pitch, or from a stop alone", () => {
    expect(
      melodyOf(
        leadSheet(
          C +
            note("E5", 4, { tie: "start" }) +
            "<forward><duration>4</duration></forward>" +
            note("E5", 8, { tie: "stop" }),
        ),
      ),
    ).toHaveLength(2);
    expect(
      melodyOf(leadSheet(C + note("E5", 8, { tie: "start" }) + note("F5", 8, { tie: "stop" }))),
    ).toHaveLength(2);
    expect(melodyOf(leadSheet(C + note("E5", 8) + note("E5", 8, { tie: "stop" })))).toHaveLength(2);
  });
});

describe("Form", () => {
  const right = (inner: string) => `<barline location="right">${inner}</barline>`;
  const left = (inner: string) => `<barline location="left">${inner}</barline>`;
  const ending = (number: string, type: string) => `<ending number="${number}" type="${type}"/>`;
  const back = '<repeat direction="backward"/>';
  const D = note("D5", 16);
  /** Jumps as "from bar (its end) > to bar (its start)", bars from 1. */
  const jumpsOf = (...bars: string[]) => {
    const { tune } = readText(leadSheet(...bars.map((bar, index) => (index === 0 ? C + bar : bar))));
    const barLength = 4 * tune.ticksPerQuarter;
    return tune.jumps.map(({ from, to }) => `${from / barLength}>${to / barLength + 1}`);
  };

  test("an end repeat without a start goes back to the beginning", () => {
    expect(jumpsOf(D, D + right(back), D)).toEqual(["2>1"]);
  });

  test("a repeated strain goes back to its start", () => {
    expect(jumpsOf(D, left('<repeat direction="forward"/>') + D, D + right(back), D)).toEqual(["3>2"]);
  });

  test("three passes with endings for 1, 2 and for 3", () => {
    const bars = [
      D,
      left(ending("1, 2", "start")) + D + right(ending("1, 2", "stop") + back),
      left(ending("3", "start")) + D + right(ending("3", "discontinue")),
      D,
    ];
    expect(jumpsOf(...bars)).toEqual(["2>1", "1>3"]);
  });

  test("a lone first ending is left out the second time", () => {
    expect(jumpsOf(D, left(ending("1", "start")) + D + right(ending("1", "stop") + back), D)).toEqual([
      "2>1",
      "1>3",
    ]);
  });

  test("D.S. al coda: back to the sign, then over to the coda", () => {
    const sound = (what: string) =>
      `<direction><direction-type><words>x</words></direction-type><sound ${what}/></direction>`;
    expect(
      jumpsOf(
        D,
        sound('segno="s"') + D,
        D + sound('tocoda="c"'),
        D + sound('dalsegno="s"'),
        sound('coda="c"') + D,
      ),
    ).toEqual(["4>2", "3>5"]);
  });

  test("D.C. al fine ends at the fine", () => {
    const sound = (what: string) =>
      `<direction><direction-type><words>x</words></direction-type><sound ${what}/></direction>`;
    expect(jumpsOf(D, D + sound('fine="yes"'), D + sound('dacapo="yes"'))).toEqual(["3>1"]);
  });

  test("directions, sounds and barlines come along as they stand, at their time", () => {
    const dacapo =
      '<direction><direction-type><words>D.C.</words></direction-type><offset>-4</offset><sound dacapo="yes"/></direction>';
    const { source, tune } = readText(
      leadSheet(C + note("C5", 16) + dacapo + right("<bar-style>light-heavy</bar-style>")),
    );
    const [measure] = source.measures;
    expect(measure?.directions.map(({ at }) => at / tune.ticksPerQuarter)).toEqual([3]);
    expect(measure?.barlines.map(({ location, at }) => [location, at / tune.ticksPerQuarter])).toEqual([
      ["right", 4],
    ]);
  });
});

describe("A bar-repeat sign", () => {
  const sign = (type: string, bars = 1) =>
    `<attributes><measure-style><measure-repeat type="${type}">${type === "start" ? bars : ""}</measure-repeat></measure-style></attributes>`;

  test("over an empty bar takes the bar before, chords and all, with a warning", () => {
    const xml = leadSheet(
      C + note("C5", 8) + harmony("F") + note("D5", 8),
      sign("start"),
      "",
      sign("stop") + note("E5", 16),
    );
    const { tune, findings } = readText(xml);
    expect(melodyText(tune)).toEqual([
      "1:1 C5 2",
      "1:3 D5 2",
      "2:1 C5 2",
      "2:3 D5 2",
      "3:1 C5 2",
      "3:3 D5 2",
      "4:1 E5 4",
    ]);
    expect(chordText(tune)).toEqual([
      "1:1 C major",
      "1:3 F major",
      "2:1 C major",
      "2:3 F major",
      "3:1 C major",
      "3:3 F major",
    ]);
    expect(findings.all.map(({ rule }) => rule)).toEqual(["bar-repeat", "bar-repeat"]);
  });

  test("of two bars takes each from two before", () => {
    const xml = leadSheet(C + note("C5", 16), note("D5", 16), sign("start", 2), "");
    expect(melodyOf(xml)).toEqual(["1:1 C5 4", "2:1 D5 4", "3:1 C5 4", "4:1 D5 4"]);
  });

  test("over a bar with notes changes nothing", () => {
    expect(melodyOf(leadSheet(C + note("C5", 16), sign("start") + note("D5", 16)))).toEqual([
      "1:1 C5 4",
      "2:1 D5 4",
    ]);
  });
});

test("a score written bar by bar is read part by part, whatever the order within a bar", () => {
  const first = `<part id="P1">${attributes(FOUR_FOUR)}${C}${note("C5", 16)}</part>`;
  const xml = `<score-timewise version="4.0"><part-list><score-part id="P1"><part-name>Voice</part-name></score-part><score-part id="P2"><part-name/></score-part></part-list><measure number="1">${first}<part id="P2">${attributes(FOUR_FOUR)}${note("C3", 16)}</part></measure><measure number="2"><part id="P2">${note("D3", 16)}</part><part id="P1">${note("D5", 16)}</part></measure></score-timewise>`;
  const { tune, source } = readText(xml);
  expect(melodyText(tune)).toEqual(["1:1 C5 4", "2:1 D5 4"]);
  expect(source.score.name).toBe("score-partwise");
  expect(source.melodyPartName).toBe("Voice");
});

test("a file that is no score says what it is", () => {
  expect(() => readText("<opus/>")).toThrow(/<opus>/);
});

test("the title is the work's, else the movement's", () => {
  const titled = (head: string) =>
    readText(score([{ bars: [attributes(FOUR_FOUR) + C + note("C5", 16)] }], head)).tune.title;
  expect(titled("<work><work-title>Lantern Walk</work-title></work>")).toBe("Lantern Walk");
  expect(titled("<movement-title>Kettle on the Hill</movement-title>")).toBe("Kettle on the Hill");
  expect(titled("")).toBeUndefined();
});

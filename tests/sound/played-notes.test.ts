import { describe, expect, test } from "vitest";
import { arrangeScore, completeOptions, Findings, parseXml, performanceOf } from "../../src/index.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { attributes, FOUR_FOUR, harmony, note, score } from "../support/score-text.js";

const performed = (text: string) => {
  const document = parseXml(new TextDecoder().decode(new TextEncoder().encode(leadSheetFromText(text))));
  const { sheet, arrangement } = arrangeScore(document, completeOptions({}), new Findings());
  return performanceOf(sheet.tune, arrangement, undefined);
};
const HEAD = "title: Round and Back\nkey: 0 major\ntime: 4/4\ntempo: 60\n\n";

test("a strain that is repeated is heard twice, at the tempo of the score", () => {
  const once = performed(`${HEAD}[C] G4/2 E4/2 | [F] A4/1 ||\n`);
  const twice = performed(`${HEAD}|: [C] G4/2 E4/2 | [F] A4/1 :|\n`);
  expect(once.seconds).toBe(8);
  expect(twice.seconds).toBe(16);
  const heard = twice.notes.map(({ seconds, midi }) => [seconds % 8, midi]);
  const [first, again] = [heard.slice(0, heard.length / 2), heard.slice(heard.length / 2)];
  expect(twice.notes.filter(({ seconds }) => seconds < 8)).toHaveLength(first.length);
  expect(again).toEqual(first);
  expect(twice.measures.map(({ index }) => index)).toEqual([0, 1, 0, 1]);
});

test("the melody is heard on top of what sounds under it", () => {
  const { notes } = performed(`${HEAD}[C] G4/2 E4/2 | [F] A4/1 ||\n`);
  const first = notes.filter(({ seconds }) => seconds === 0);
  expect(Math.max(...first.map(({ midi }) => midi))).toBe(first.find(({ isMelody }) => isMelody)?.midi);
  expect(first.length).toBeGreaterThan(1);
});

/** What stands before and after the note of a bar. */
type Bar = readonly [before: string, after: string];

describe("The form is played out", () => {
  const repeat = (direction: "forward" | "backward", times?: number, ending = "") =>
    `<barline location="${direction === "forward" ? "left" : "right"}">${ending}<repeat direction="${direction}"${times === undefined ? "" : ` times="${times}"`}/></barline>`;
  const bracket = (numbers: string, type: "start" | "stop") => `<ending number="${numbers}" type="${type}"/>`;
  const opened = (numbers: string) => `<barline location="left">${bracket(numbers, "start")}</barline>`;
  const closed = (numbers: string) => `<barline location="right">${bracket(numbers, "stop")}</barline>`;
  const sound = (sign: string) => `<sound ${sign}/>`;
  const tempo = (quarters: number) => `<sound tempo="${quarters}"/>`;
  /** Bars of one whole note each. */
  const form = (...bars: readonly Bar[]) => {
    const xml = score([
      {
        bars: bars.map(
          ([before, after], index) =>
            `${index === 0 ? attributes(FOUR_FOUR) : ""}${before}${index === 0 ? harmony("C") : ""}${note("G4", 16)}${after}`,
        ),
      },
    ]);
    const { sheet, arrangement } = arrangeScore(parseXml(xml), completeOptions({}), new Findings());
    return performanceOf(sheet.tune, arrangement, undefined);
  };
  const barsHeard = (...bars: readonly Bar[]) => form(...bars).measures.map(({ index }) => index + 1);

  test("a strain as often as its sign says", () => {
    expect(barsHeard([repeat("forward"), ""], ["", repeat("backward", 3)], ["", ""])).toEqual([
      1, 2, 1, 2, 1, 2, 3,
    ]);
  });

  test("each ending at its passes, three times through", () => {
    expect(
      barsHeard(
        [repeat("forward"), ""],
        [opened("1, 2"), repeat("backward", undefined, bracket("1, 2", "stop"))],
        [opened("3"), closed("3")],
        ["", ""],
      ),
    ).toEqual([1, 2, 1, 2, 1, 3, 4]);
  });

  test("from the beginning to the Fine, where it ends", () => {
    expect(barsHeard(["", ""], ["", sound('fine="yes"')], ["", sound('dacapo="yes"')])).toEqual([
      1, 2, 3, 1, 2,
    ]);
  });

  test("from the sign, and over to the coda", () => {
    expect(
      barsHeard(
        ["", ""],
        [sound('segno="segno"'), ""],
        ["", sound('tocoda="coda"')],
        ["", sound('dalsegno="segno"')],
        [sound('coda="coda"'), ""],
      ),
    ).toEqual([1, 2, 3, 4, 2, 3, 5]);
  });

  test("a repeated strain within a da capo once more, without its repeat", () => {
    expect(
      barsHeard(
        [repeat("forward"), repeat("backward")],
        ["", sound('fine="yes"')],
        ["", sound('dacapo="yes"')],
      ),
    ).toEqual([1, 1, 2, 3, 1, 2]);
  });

  test("each bar as long as its tempo says, and every tempo that is come to is told", () => {
    const { measures, tempos, seconds } = form(
      [`${tempo(60)}${repeat("forward")}`, ""],
      [tempo(120), repeat("backward")],
      [tempo(240), ""],
    );
    expect(measures.map(({ length }) => length)).toEqual([4, 2, 4, 2, 1]);
    expect(tempos).toEqual([
      { seconds: 0, quartersPerMinute: 60 },
      { seconds: 4, quartersPerMinute: 120 },
      { seconds: 6, quartersPerMinute: 60 },
      { seconds: 10, quartersPerMinute: 120 },
      { seconds: 12, quartersPerMinute: 240 },
    ]);
    expect(seconds).toBe(13);
  });
});

test("a melody note that is left ringing is heard once, for as long as it rings", () => {
  const { notes } = performed(`${HEAD}[C6] G4/4 C5/4 G4/4 C5/4 ||\n`);
  const fifths = notes.filter(({ midi }) => midi === 67).map(({ seconds, length }) => [seconds, length]);
  expect(fifths).toEqual([
    [0, 2],
    [2, 2],
  ]);
});

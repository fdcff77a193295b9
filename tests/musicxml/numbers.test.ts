import { describe, expect, test } from "vitest";
import { textOfFinding } from "../../src/diagnostics.js";
import { NUMBER_LIMITS, type NumberName } from "../../src/musicxml/numbers/number-limits.js";
import { exactNumber, numberFrom, numbersFrom } from "../../src/musicxml/numbers/read-number.js";
import { arrangedText } from "../support/arranged-text.js";
import { readText } from "../support/reading.js";
import { attributes, FOUR_FOUR, harmony, leadSheet, note, score } from "../support/score-text.js";

const C = harmony("C");
const HUGE = ["99999999999999999999", "-99999999999999999999", "1".repeat(5000), "1e9", "NaN", "0x10", "3/2"];

test("every number has limits, and nothing beyond them is taken", () => {
  for (const name of Object.keys(NUMBER_LIMITS) as NumberName[]) {
    for (const text of HUGE) {
      expect(numberFrom(name, text)).toBeUndefined();
      expect(exactNumber(name, text)).toBeUndefined();
      expect([...numbersFrom(name, text)]).toEqual([]);
    }
  }
});

test("numbers may have blanks around them, a needless fraction, and sums and lists where they are usual", () => {
  expect(numberFrom("root-alter", "\n-1\n")).toBe(-1);
  expect(numberFrom("fifths", "3.0")).toBe(3);
  expect(numberFrom("fifths", "3.5")).toBeUndefined();
  expect(numberFrom("beats", "3 + 2")).toBe(5);
  expect([...numbersFrom("ending@number", "1, 2")]).toEqual([1, 2]);
  expect([...numbersFrom("ending@number", "1-3")]).toEqual([1, 2, 3]);
  expect([...numbersFrom("ending@number", "3-1")]).toEqual([]);
});

/** A score with one number of each kind, to be spoilt. */
const spoilt = (found: string): Readonly<Record<string, string>> => ({
  fifths: score([
    { bars: [attributes(`<key><fifths>${found}</fifths></key>${FOUR_FOUR}`) + C + note("C5", 16)] },
  ]),
  alter: leadSheet(C + note("C5", 16, { alter: found })),
  chromatic: score([
    {
      bars: [
        attributes(`${FOUR_FOUR}<transpose><chromatic>${found}</chromatic></transpose>`) + C + note("C5", 16),
      ],
    },
  ]),
  "root-alter": leadSheet(
    `<harmony><root><root-step>C</root-step><root-alter>${found}</root-alter></root><kind>major</kind></harmony>${note("C5", 16)}`,
  ),
  "bass-alter": leadSheet(
    harmony("C", "major", `<bass><bass-step>E</bass-step><bass-alter>${found}</bass-alter></bass>`) +
      note("C5", 16),
  ),
  inversion: leadSheet(harmony("C", "major", `<inversion>${found}</inversion>`) + note("C5", 16)),
  offset: leadSheet(harmony("C", "major", `<offset>${found}</offset>`) + note("C5", 16)),
  beats: score([
    {
      bars: [attributes(`<time><beats>${found}</beats><beat-type>4</beat-type></time>`) + C + note("C5", 16)],
    },
  ]),
  "beat-type": score([
    {
      bars: [attributes(`<time><beats>4</beats><beat-type>${found}</beat-type></time>`) + C + note("C5", 16)],
    },
  ]),
  "sound tempo": leadSheet(`<sound tempo="${found}"/>${C}${note("C5", 16)}`),
  "repeat times": leadSheet(
    C +
      note("C5", 16) +
      `<barline location="right"><repeat direction="backward" times="${found}"/></barline>`,
  ),
  "ending number": leadSheet(
    `${C + note("C5", 16)}<barline location="right"><ending number="${found}" type="start"/></barline>`,
  ),
  "staff-lines": score([
    {
      bars: [
        attributes(`${FOUR_FOUR}<staff-details><staff-lines>${found}</staff-lines></staff-details>`) +
          C +
          note("C5", 16),
      ],
    },
  ]),
  "actual-notes": leadSheet(
    C +
      note("C5", 16, {
        type: `<type>whole</type><time-modification><actual-notes>${found}</actual-notes><normal-notes>2</normal-notes></time-modification>`,
      }),
  ),
  "measure-repeat": score([
    {
      bars: [
        attributes(FOUR_FOUR) + C + note("C5", 16),
        `<attributes><measure-style><measure-repeat type="start">${found}</measure-repeat></measure-style></attributes>${note("C5", 16)}`,
      ],
    },
  ]),
});

describe.each(HUGE.filter((text) => text.length < 30))("%s", (found) => {
  test.each(Object.entries(spoilt(found)))(
    "in <%s> is said with its place, and the score is arranged without it",
    (name, xml) => {
      const { findings, document } = arrangedText(xml);
      const said = findings.filter(({ rule }) => rule === "number-unreadable");
      expect(said.map(({ found: what }) => what)).toEqual([`"${found}" in <${name}>`]);
      expect(said.map(({ place }) => place.measure)).toEqual([name === "measure-repeat" ? 2 : 1]);
      expect(document).toContain("<sign>TAB</sign>");
    },
  );
});

test("a note that cannot be read leaves a silence, and the places of all of them are said", () => {
  const xml = leadSheet(
    C + note("C5", 4) + note("D5", 4).replace("<step>D", "<step>H") + note("E5", 4) + note("F5", 4),
    note("C5", 8) + note("C5", 8).replace("<octave>5", "<octave>12"),
  );
  const { tune, findings } = readText(xml);
  expect(tune.melody).toHaveLength(4);
  expect(findings.all.map(textOfFinding)).toEqual([
    expect.stringMatching(/measure 1, beat 2: warning: The pitch "H 5"/),
    expect.stringMatching(/measure 2, beat 3: warning: The pitch "C 12"/),
  ]);
});

test("a tune of more notes than anybody plays is refused by its count", () => {
  const bars = Array.from({ length: 2501 }, () => note("C5", 4).repeat(4));
  expect(() => readText(leadSheet(C + bars[0], ...bars.slice(1)))).toThrow(/The tune has 10004 notes/);
});

test("a bar of a thousand whole notes is refused, and one of a hundred is cut into values", () => {
  const silence = (quarters: number) => `<forward><duration>${quarters * 4}</duration></forward>`;
  expect(() => readText(leadSheet(C + note("C5", 16) + silence(4000)))).toThrow(
    /The bar lasts 4004 quarters/,
  );
  expect(arrangedText(leadSheet(C + note("C5", 16) + silence(400))).document).toContain("<sign>TAB</sign>");
});

test("the beam of a number that no beam has is read as the first", () => {
  const eighth = (type: string) => note("C5", 2, { after: `<beam number="4294967295">${type}</beam>` });
  const xml = leadSheet(C + eighth("begin") + eighth("end") + note("C5", 12));
  expect(arrangedText(xml).document).toContain("<sign>TAB</sign>");
});

import { Ajv } from "ajv";
import { describe, expect, test } from "vitest";
import { arrangeScore } from "../../src/arrange-score.js";
import { Findings } from "../../src/diagnostics.js";
import { surveyKeys } from "../../src/keys/survey-keys.js";
import { completeOptions } from "../../src/options/option-checking.js";
import type { KeyEntry, KeySurvey } from "../../src/reporting/key-survey-report.js";
import { KEYS_SCHEMA } from "../../src/reporting/keys-schema.js";
import { keysLines } from "../../src/reporting/keys-text.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { runInMemory } from "../support/outside-in-memory.js";
import { attributes, FOUR_FOUR, harmony, note, score } from "../support/score-text.js";

/** Two bars in C minor, from C5 up to a high A5 flat: wide enough not to fit everywhere. */
const SCORE = score([
  {
    bars: [
      `${attributes(`<key><fifths>-3</fifths><mode>minor</mode></key>${FOUR_FOUR}`)}${harmony("C", "minor")}${note("C5", 4)}${note("Eb5", 4)}${note("G5", 8)}`,
      `${harmony("F", "minor-seventh")}${note("Ab5", 8)}${harmony("G", "dominant")}${note("D5", 4)}${note("B3", 4)}`,
    ],
  },
]);

const surveyed = (given: object = {}, text = SCORE): KeySurvey =>
  surveyKeys(parseXml(text), completeOptions(given), new Findings());

const survey = surveyed();
const entryOf = (option: string, from = survey): KeyEntry => {
  const entry = from.keys.find((one) => one.option === option);
  if (entry === undefined) throw new Error(`no key ${option}`);
  return entry;
};

describe("the survey of a tune in C minor", () => {
  test("has all twelve keys once, each spelled with the fewest accidentals", () => {
    expect(survey.key).toBe("C minor");
    expect(survey.keys.map(({ option }) => option).toSorted()).toEqual(
      ["Cm", "C#m", "Dm", "Ebm", "Em", "Fm", "F#m", "Gm", "G#m", "Am", "Bbm", "Bm"].toSorted(),
    );
    expect(entryOf("F#m").key).toBe("F# minor");
  });

  test("the cheapest comes first, and those that do not fit last", () => {
    const costs = survey.keys.map(({ places }) => places[0]?.cost ?? Number.POSITIVE_INFINITY);
    expect(costs).toEqual(costs.toSorted((one, other) => one - other));
    expect(costs.filter(Number.isFinite).length).toBeGreaterThan(2);
  });

  test("fits exactly the keys that the tune can be arranged in by name", () => {
    for (const { option, fits, notesOutside } of survey.keys) {
      const asked = () => arrangeScore(parseXml(SCORE), completeOptions({ key: option }), new Findings());
      if (fits) expect(asked).not.toThrow();
      else {
        expect(asked).toThrow(/In the key of/);
        expect(notesOutside).toBeGreaterThan(0);
      }
    }
    // B3 to A5 flat is 21 semitones; on strings 1 to 3 up to fret 15 there are 24 from G3 to G5.
    expect(survey.keys.filter(({ fits }) => fits)).toHaveLength(4);
  });

  test("its first is the arrangement that the best key gives", () => {
    const best = arrangeScore(parseXml(SCORE), completeOptions({ key: "best" }), new Findings());
    const [first] = survey.keys;
    expect(best.report.key.after).toBe(first?.key);
    expect(best.report.key.semitones).toBe(first?.places[0]?.semitones);
    expect(best.arrangement.cost).toBe(first?.places[0]?.cost);
  });

  test("the figures of each place are those of its arrangement", () => {
    for (const { option, places } of survey.keys) {
      const [place] = places;
      if (place === undefined) continue;
      const { report, arrangement } = arrangeScore(
        parseXml(SCORE),
        completeOptions({ key: option }),
        new Findings(),
      );
      expect(place.semitones).toBe(report.key.semitones);
      expect(place.cost).toBe(arrangement.cost);
      expect(place.hardestMove).toEqual(report.hardestMove);
      const { struck, held, notes } = report.melody;
      expect(place.harmonised).toBeCloseTo((struck + held) / notes, 3);
      const open = report.events.map((event) => event.notes.filter(({ fret }) => fret === 0));
      expect(place.openMoments).toBeCloseTo(open.filter(({ length }) => length > 0).length / open.length, 3);
      expect(place.openStrings).toEqual([...new Set(open.flat().map(({ string }) => string))].toSorted());
    }
  });

  test("a capo is named only where the whole tune costs less with it, sounding the same", () => {
    const capos = survey.keys.filter(({ capo }) => capo !== undefined);
    expect(capos.length).toBeGreaterThan(0);
    for (const { option, places, capo } of capos) {
      const withCapo = arrangeScore(
        parseXml(SCORE),
        completeOptions({ key: option, capo: capo?.fret, frets: 15 }),
        new Findings(),
      );
      expect(capo?.cost).toBeLessThan(places[0]?.cost ?? 0);
      expect(withCapo.report.key.semitones).toBe(places[0]?.semitones);
      expect(withCapo.arrangement.cost).toBe(capo?.cost);
    }
  });

  test("is what its schema describes, and the schema refuses what it does not know", () => {
    const fits = new Ajv({ allErrors: true }).compile(KEYS_SCHEMA);
    fits(JSON.parse(JSON.stringify(survey)));
    expect(fits.errors).toBeNull();
    expect(fits({ ...survey, mood: "dark" })).toBe(false);
    expect(fits({ ...survey, keys: survey.keys.slice(1) })).toBe(false);
  });

  test("its table has a line for each place, and names what does not fit", () => {
    const lines = keysLines(survey);
    const misfits = survey.keys.filter(({ fits }) => !fits);
    expect(lines[0]).toBe("Untitled, written in C minor");
    expect(lines[3]).toMatch(new RegExp(`^${survey.keys[0]?.key} +`));
    expect(lines.slice(-misfits.length)).toEqual(
      misfits.map(({ key }) => expect.stringMatching(new RegExp(`^  ${key} \\(\\d+ notes? outside\\)$`))),
    );
  });
});

test("more frets let more keys fit", () => {
  const fitting = ({ keys }: KeySurvey) => keys.filter(({ fits }) => fits).length;
  expect(fitting(surveyed({ frets: 19 }))).toBeGreaterThan(fitting(survey));
});

test("a tune that fits in no key gets all twelve with what is outside, and a warning", () => {
  const wide = SCORE.replace("<octave>3</octave>", "<octave>2</octave>");
  const none = surveyed({}, wide);
  expect(none.keys).toHaveLength(12);
  expect(none.keys.every(({ fits, notesOutside = 0 }) => !fits && notesOutside > 0)).toBe(true);
  expect(none.findings).toEqual([expect.objectContaining({ rule: "no-key-fits", severity: "warning" })]);
});

describe("the command", () => {
  const files = { "two-bars.musicxml": SCORE };

  test("prints the table", async () => {
    const ran = await runInMemory(["keys", "two-bars.musicxml"], files);
    expect(ran.status, ran.errors).toBe(0);
    expect(ran.output.trimEnd().split("\n")).toEqual(keysLines(survey));
  });

  test("prints the same as JSON", async () => {
    const ran = await runInMemory(["keys", "two-bars.musicxml", "--json"], files);
    expect(JSON.parse(ran.output)).toEqual(JSON.parse(JSON.stringify(survey)));
  });

  test("refuses an option it has no use for, by its name", async () => {
    const ran = await runInMemory(["keys", "two-bars.musicxml", "--key", "best"], files);
    expect(ran.status).toBe(2);
    expect(ran.errors).toContain("--key");
  });

  test("refuses what is no score, with the file's name", async () => {
    const ran = await runInMemory(["keys", "odd.musicxml"], { "odd.musicxml": "dear diary" });
    expect(ran.status).toBe(1);
    expect(ran.errors).toMatch(/^odd\.musicxml/);
  });
});

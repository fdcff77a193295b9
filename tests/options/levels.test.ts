import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { arrangeScore } from "../../src/arrange-score.js";
import { checkScore } from "../../src/checking/check-score.js";
import { Findings, textOfFinding } from "../../src/diagnostics.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { OPTIONS } from "../../src/options/options.js";
import { readScoreText } from "../../src/xml/container.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { printXml } from "../../src/xml/print-xml.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";

const LEVELS = OPTIONS.level.enum;
const SAMPLES = fileURLToPath(new URL("../../sample-scores/", import.meta.url));
const sample = (name: string) => parseXml(readScoreText(readFileSync(join(SAMPLES, name))).text);

describe("the options of a level", () => {
  test("are those of first position at the elementary one, and all there is at the advanced one", () => {
    expect(completeOptions({ level: "elementary" })).toMatchObject({
      texture: "lean",
      frets: 5,
      barres: "none",
      notes: "3",
    });
    expect(completeOptions({ level: "advanced" })).toEqual(completeOptions({}));
  });

  test("ask more of the hand from level to level", () => {
    const asked = LEVELS.map((level) => completeOptions({ level }));
    for (const name of ["frets", "reach", "shift"] as const) {
      const values = asked.map((options) => options[name]);
      expect(values, name).toEqual(values.toSorted((a, b) => a - b));
      expect(new Set(values).size, name).toBe(LEVELS.length);
    }
    expect(asked.map(({ barres }) => barres)).toEqual(["none", "partial", "all"]);
  });

  test("give way, each alone, to what is given beside it", () => {
    const whole = completeOptions({ level: "elementary" });
    const given = {
      texture: "full",
      frets: 9,
      reach: 0.9,
      barres: "all",
      strings: "1,2",
      notes: "4",
      shift: 300,
    };
    for (const [name, value] of Object.entries(given))
      expect(completeOptions({ level: "elementary", [name]: value })).toEqual({ ...whole, [name]: value });
  });

  test("leave a high capo the frets that there are", () => {
    expect(completeOptions({ level: "intermediate", capo: 3 }).frets).toBe(7);
    expect(completeOptions({ level: "advanced", capo: 11 }).frets).toBe(13);
  });
});

describe.each(LEVELS)(
  "at the %s level every sample is playable by its own limits:",
  (level) => {
    test.each(readdirSync(SAMPLES))("%s", (name) => {
      const options = completeOptions({ level });
      const { document, arrangement, report } = arrangeScore(sample(name), options, new Findings());
      const { findings } = checkScore(parseXml(printXml(document)), options);
      const faults = findings.filter(
        ({ rule, severity }) => severity === "error" || ["move-too-fast", "fret-high"].includes(rule),
      );
      expect(faults.map(textOfFinding)).toEqual([]);
      expect(report.moves.beyondLimit).toBe(0);
      const frets = [...arrangement.melody, ...arrangement.supports].map(({ fret }) => fret);
      expect(Math.max(...frets)).toBeLessThanOrEqual(options.frets);
      if (level === "elementary") expect(report.barres).toBe(0);
    });
  },
  60_000,
);

test("the limits of the elementary level find fault with what the advanced one asks", () => {
  const advanced = arrangeScore(sample("harbour-in-june.musicxml"), completeOptions({}), new Findings());
  const { findings } = checkScore(
    parseXml(printXml(advanced.document)),
    completeOptions({ level: "elementary" }),
  );
  const rules = new Set(findings.map(({ rule }) => rule));
  for (const rule of ["barre-unwanted", "fret-high"]) expect(rules).toContain(rule);
});

describe("a score that was arranged at a level", () => {
  const made = (document: ReturnType<typeof sample>, options: object) => {
    const { document: written } = arrangeScore(document, completeOptions(options), new Findings());
    return parseXml(printXml(written));
  };
  // Within first position, so that every level leaves it in its key.
  const lead = parseXml(
    leadSheetFromText(`title: Low Gate
key: 0 major
time: 4/4
tempo: 90

[C] G4/4 E4/4 G4/4 A4/4 | [Dm7] F4/4 A4/4 F4/4 D4/4 | [G7] F4/4 D4/4 B3/4 D4/4 | [C] E4/1 ||
`),
  );
  const easy = made(lead, { level: "elementary", texture: "fluent" });

  test("keeps its level, and what was given beside it, where nothing else is asked", () => {
    expect(printXml(made(easy, {}))).toBe(printXml(easy));
    expect(printXml(made(easy, { level: "elementary" }))).toBe(printXml(easy));
  });

  test("is arranged anew at another one, as if it had come for the first time", () => {
    expect(printXml(made(easy, { level: "intermediate" }))).toBe(
      printXml(made(lead, { level: "intermediate" })),
    );
  });
});

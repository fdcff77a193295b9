import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  arrangeScore,
  completeOptions,
  Findings,
  handTrace,
  parseXml,
  sheetHtml,
  sheetOf,
  sheetSvg,
} from "../../src/index.js";
import { learntShapes } from "../../src/sheets/shape-sheet.js";
import { hardestMoves } from "../../src/sheets/steps-sheet.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { runInMemory } from "../support/outside-in-memory.js";

const KETTLE = readFileSync(
  new URL("../../sample-scores/kettle-on-the-sill.musicxml", import.meta.url),
  "utf8",
);
const options = completeOptions({});
const document = parseXml(KETTLE);
const { sheet, arrangement, report } = arrangeScore(document, options, new Findings());
const trace = handTrace(sheet, arrangement, options);

describe("the shapes of an arrangement", () => {
  const shapes = learntShapes(report);

  test("every chord that is struck is under one shape, and no other moment is", () => {
    const struck = report.events.filter(
      ({ attack, chord, notes }) =>
        (attack === "struck" || attack === "under") && chord !== undefined && notes.length > 1,
    );
    const listed = shapes.flatMap(({ moments }) => moments);
    expect(listed).toHaveLength(struck.length);
    expect(new Set(listed)).toEqual(new Set(struck));
  });

  test("a shape has one quality, one degree on top, and the same strings and fingers throughout", () => {
    for (const { first, moments } of shapes)
      for (const moment of moments) {
        expect(moment.melodyDegree).toBe(first.melodyDegree);
        expect(moment.notes.map(({ string, finger }) => [string, finger])).toEqual(
          first.notes.map(({ string, finger }) => [string, finger]),
        );
      }
  });

  test("without open strings a shape is one wherever it is, with them it is another at every fret", () => {
    const moment = (chord: string, frets: readonly number[]) => ({
      measure: 1,
      beat: 1,
      chord,
      melody: "A4",
      melodyDegree: "3",
      attack: "struck" as const,
      degrees: ["1", "3"],
      notes: frets.map((fret, index) => ({ string: 3 - index, fret, finger: (fret === 0 ? 0 : 1) as 0 | 1 })),
      barres: [],
      leftOut: [],
      alternatives: [],
    });
    const count = (events: Parameters<typeof learntShapes>[0]["events"]) => learntShapes({ events }).length;
    expect(count([moment("Cmaj7", [5, 5]), moment("Ebmaj7", [8, 8])])).toBe(1);
    expect(count([moment("Cmaj7", [0, 5]), moment("Ebmaj7", [0, 8])])).toBe(2);
    expect(count([moment("Cmaj7", [5, 5]), moment("Cm7", [5, 5])])).toBe(2);
  });
});

test("the hardest moves come hardest first, and are begun at a tempo at which they are easy", () => {
  const hard = hardestMoves({ report, trace }, 120);
  const speeds = hard.map(({ moveMm, secondsAvailable }) => moveMm / secondsAvailable);
  expect(speeds).toEqual(speeds.toSorted((one, other) => other - one));
  for (const { moveMm, secondsAvailable, slow } of hard) {
    const slowly = (moveMm / secondsAvailable) * (slow / 120);
    expect(slow).toBeLessThanOrEqual(120);
    if (slow > 30) expect(slowly).toBeLessThanOrEqual(options.shift / 5);
  }
});

test("a tune of thirty-two measures is learnt in steps on one page", () => {
  const bars = Array.from({ length: 32 }, (_, bar) =>
    bar % 2 === 0 ? "[C] G4/4 C5/4 E5/2" : "[F] A4/2 C5/2",
  );
  const tune = parseXml(
    leadSheetFromText(`title: Long Shelf\nkey: 0 major\ntime: 4/4\ntempo: 100\n\n${bars.join(" | ")} ||\n`),
  );
  expect(sheetOf(tune, options, new Findings(), undefined, ["steps"]).pages).toHaveLength(1);
});

test("a sheet is one file that asks for nothing, and its picture is well-formed XML", () => {
  const { title, pages } = sheetOf(document, options, new Findings());
  const html = sheetHtml(title, pages);
  expect(html).not.toMatch(/<script|<link|href=|src=|url\(/);
  expect(html).not.toMatch(/NaN|undefined|Infinity/);
  const svg = parseXml(sheetSvg(title, pages));
  expect(svg.root.name).toBe("svg");
});

describe("undervoice sheet", () => {
  const files = { "kettle.musicxml": KETTLE };

  test("writes beside the score, HTML or SVG, and replaces nothing that was not named", async () => {
    const ran = await runInMemory(["sheet", "kettle.musicxml", "--only", "shapes"], files);
    expect(ran.status, ran.errors).toBe(0);
    expect(Buffer.from(ran.files.get("kettle-sheet.html") ?? []).toString()).toContain("Kettle on the Sill");
    const again = await runInMemory(["sheet", "kettle.musicxml"], { ...files, "kettle-sheet.html": "mine" });
    expect(again.status).toBe(2);
    expect(again.errors).toContain("kettle-sheet.html is there already");
    const drawn = await runInMemory(["sheet", "kettle.musicxml", "-o", "k.svg", "--only", "shapes"], files);
    expect(Buffer.from(drawn.files.get("k.svg") ?? []).toString()).toContain("<svg");
  });

  test.each([
    [["-o", "k.pdf"], "written as .html or .svg"],
    [["--only", "chords"], "steps or shapes"],
    [["--lead", "drop"], "no use for --lead"],
  ])("%j is refused by what it asks", async (words, said) => {
    const { status, errors, files: left } = await runInMemory(["sheet", "kettle.musicxml", ...words], files);
    expect(status).toBe(2);
    expect(errors).toContain(said);
    expect([...left.keys()]).toEqual(["kettle.musicxml"]);
  });

  test("a score that cannot be read is refused and no sheet is left", async () => {
    const ran = await runInMemory(["sheet", "broken.musicxml"], { "broken.musicxml": "<score-partwise>" });
    expect(ran.status).toBe(1);
    expect([...ran.files.keys()]).toEqual(["broken.musicxml"]);
  });
});

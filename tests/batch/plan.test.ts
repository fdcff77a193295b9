import { Ajv } from "ajv";
import fc from "fast-check";
import { expect, test } from "vitest";
import { batchJobs, placeOf } from "../../src/batch/batch-jobs.js";
import { BatchRecord, recordLine } from "../../src/batch/batch-record.js";
import type { BatchRow } from "../../src/batch/batch-row.js";
import { BATCH_SCHEMA } from "../../src/batch/batch-schema.js";
import { batchSummary, mergedSummary } from "../../src/batch/batch-summary.js";
import { needAnEye } from "../../src/batch/needs-an-eye.js";
import { shardFrom, shareOf } from "../../src/batch/shard.js";
import { batchPage } from "../../src/batch/summary-page.js";
import { completeOptions } from "../../src/options/option-checking.js";

const asked = (...places: string[]) => places.map((place) => ({ input: place, place }));

const row = (input: string, more: Partial<BatchRow> = {}): BatchRow => ({
  input,
  sheet: `../${input}`,
  score: input.replace(/\.\w+$/, "-guitar.musicxml"),
  outcome: "arranged",
  arranged: {
    title: "Two Geese",
    key: "G major",
    semitones: 0,
    fits: "as written",
    notes: 20,
    withChord: 0.9,
    moves: 19,
    movesTooFast: 0,
  },
  warnings: 0,
  says: [],
  ...more,
});

const ABOUT = { program: "1.2.3", options: completeOptions({}), notBegun: 0, seconds: 1 };

test("folders stay as they are, and the order is the same whatever order the files come in", () => {
  const { jobs } = batchJobs(asked("b/two.xml", "a/one.mxl", "three.musicxml"), true);
  expect(jobs.map(({ output }) => output)).toEqual([
    "a/one-guitar.mxl",
    "b/two-guitar.mxl",
    "three-guitar.mxl",
  ]);
  expect(batchJobs(asked("a/one.mxl", "three.musicxml", "b/two.xml"), true).jobs).toEqual(jobs);
});

test("lead sheets that would become one guitar score are named, capitals or not", () => {
  const { collisions } = batchJobs(asked("a/tune.xml", "a/Tune.mxl", "b/tune.xml"), false);
  expect(collisions.map(({ inputs }) => inputs.toSorted())).toEqual([["a/Tune.mxl", "a/tune.xml"]]);
});

test("no file leads out of the output folder", () => {
  expect(["./a/b.xml", "/etc/b.xml", "../b.xml", "a/../../b.xml"].map(placeOf)).toEqual([
    "a/b.xml",
    "b.xml",
    "b.xml",
    "b.xml",
  ]);
});

test("the shares of a list are all of it, each score in one of them", () =>
  fc.assert(
    fc.property(fc.array(fc.nat()), fc.integer({ min: 1, max: 20 }), (items, count) => {
      const shares = Array.from({ length: count }, (_, index) => shareOf(items, { index: index + 1, count }));
      expect(shares.flat().toSorted()).toEqual(items.toSorted());
      const lengths = shares.map(({ length }) => length);
      expect(Math.max(...lengths) - Math.min(...lengths)).toBeLessThanOrEqual(1);
    }),
  ));

test("a share is one of a thousand at most, counted from 1", () => {
  expect(shardFrom("3/8")).toEqual({ index: 3, count: 8 });
  for (const text of ["0/8", "9/8", "3", "3/", "a/b", "1/1001", "-1/8", "1/8/9"])
    expect(shardFrom(text)).toBeUndefined();
});

test("a record whose last line was cut off is read up to there, and goes on behind it", () => {
  const entry = { output: "a", inputHash: "i", wishHash: "w", outputHash: "o", row: row("a.xml") };
  const cut = recordLine(entry) + recordLine({ ...entry, output: "b" }).slice(0, 40);
  const record = new BatchRecord([cut + recordLine({ ...entry, output: "c", outputHash: "p" })]);
  expect(["a", "b", "c"].map((output) => record.of(output)?.output)).toEqual(["a", undefined, "c"]);
  expect([record.isOurs("a", "o"), record.isOurs("a", "p"), record.isOurs("b", "o")]).toEqual([
    true,
    false,
    false,
  ]);
});

test("what was not arranged needs an eye first, then what had to move; a score without trouble needs none", () => {
  const plain = row("plain.xml");
  const { arranged } = plain;
  if (arranged === undefined) throw new Error("it is arranged");
  const moved = row("moved.xml", { arranged: { ...arranged, fits: "moved", semitones: -2 } });
  const fast = row("fast.xml", { arranged: { ...arranged, movesTooFast: 2 } });
  const { arranged: _, ...bare } = plain;
  const refused: BatchRow = { ...bare, input: "refused.xml", outcome: "refused", says: ["error: no"] };
  expect(needAnEye([fast, plain, moved, refused], "fluent")).toEqual([
    { input: "refused.xml", reasons: ["not arranged: error: no"] },
    { input: "moved.xml", reasons: ["moved 2 semitones down to lie on its strings"] },
    { input: "fast.xml", reasons: ["2 of 19 moves are too fast for the hand"] },
  ]);
  expect(
    needAnEye(
      Array.from({ length: 30 }, (_, at) => ({ ...refused, input: `${at}` })),
      "fluent",
    ),
  ).toHaveLength(20);
});

test("the summary is what its schema describes, and several make one", () => {
  const fits = new Ajv().compile(BATCH_SCHEMA);
  const one = batchSummary([row("b.xml"), row("a.xml", { warnings: 2, says: ["warning: x"] })], ABOUT);
  const { arranged: _, ...bare } = row("c.xml");
  const two = batchSummary([{ ...bare, outcome: "trouble", says: ["gone"] }], ABOUT);
  const both = mergedSummary([one, two]);
  for (const summary of [one, two, both]) expect(fits(summary), JSON.stringify(fits.errors)).toBe(true);
  expect(both.rows.map(({ input }) => input)).toEqual(["a.xml", "b.xml", "c.xml"]);
  expect(both.counts).toMatchObject({ scores: 3, arranged: 2, trouble: 1 });
  expect(both.seconds).toBe(2);
  expect(fits({ ...one, more: 1 })).toBe(false);
});

test("of many warnings the first are shown, and how many more there are", () => {
  const page = (warnings: number) =>
    batchPage(batchSummary([row("a.xml", { says: ["one", "two"], warnings })], ABOUT));
  expect(page(9)).toContain("<li>two</li><li>and 7 more");
  expect(page(2)).toContain("<li>two</li></ul>");
});

test("no title, finding or file name becomes markup or a link elsewhere", () => {
  const evil = '"><script>alert(1)</script>';
  const { arranged } = row("a.xml");
  if (arranged === undefined) throw new Error("it is arranged");
  const page = batchPage(
    batchSummary(
      [
        row(`javascript:alert(1)${evil}.xml`, {
          arranged: { ...arranged, title: evil, fits: "moved" },
          says: [evil],
          warnings: 1,
        }),
      ],
      ABOUT,
    ),
  );
  expect(page).not.toContain("<script>alert");
  expect(page.match(/href="[^"]*"/g)?.every((href) => /^href="(#|\.\/)/.test(href))).toBe(true);
  expect(page).not.toMatch(/href="javascript/);
});

import { Ajv } from "ajv";
import { describe, expect, test } from "vitest";
import { flagNameOf } from "../../src/cli/flags.js";
import { OPTIONS, OPTIONS_FOR } from "../../src/options/options.js";
import { CHECK_SCHEMA } from "../../src/reporting/check-schema.js";
import { compressedScore } from "../../src/xml/container.js";
import { guitarScoreText } from "../support/guitar-score-text.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { runInMemory } from "../support/outside-in-memory.js";

const GOOD = guitarScoreText("4:2:2+1:3:4/2 1:0/2");
const HARD = guitarScoreText("2:1:1+1:5:4/1");
const BAD = guitarScoreText("1:0/1 | r/2 1:3:3+1:1:1/2");

describe("the status tells what was found", () => {
  test.each([
    ["nothing", GOOD, 0],
    ["something hard", HARD, 0],
    ["something that cannot be played", BAD, 4],
    ["no score at all", "<html/>", 1],
  ])("%s", async (_, xml, status) => {
    const ran = await runInMemory(["check", "a.musicxml"], { "a.musicxml": xml });
    expect(ran.status, ran.errors).toBe(status);
    expect([...ran.files.keys()]).toEqual(["a.musicxml"]);
  });

  test("a file that is not there", async () => {
    expect((await runInMemory(["check", "a.musicxml"])).status).toBe(3);
  });

  test("an option out of its range", async () => {
    expect((await runInMemory(["check", "a.musicxml", "--capo", "40"], { "a.musicxml": GOOD })).status).toBe(
      2,
    );
  });
});

test("a finding is one line with file, measure and beat, and the figures come after", async () => {
  const { output } = await runInMemory(["check", "a.musicxml"], { "a.musicxml": BAD });
  const lines = output.trimEnd().split("\n");
  expect(lines[0]).toBe(
    "a.musicxml, measure 2, beat 3: error: F4 and G4 are struck on string 1 at once. Put one of them on another string.",
  );
  expect(lines[1]).toBe("Read as: notation and TAB in a part each");
  expect(lines.at(-1)).toBe("Errors: 1, warnings: 0, notes: 0");
});

test("quiet prints errors only", async () => {
  const hard = await runInMemory(["check", "-q", "a.musicxml"], { "a.musicxml": HARD });
  expect(hard.output).toBe("");
  const bad = await runInMemory(["check", "--quiet", "a.musicxml"], { "a.musicxml": BAD });
  expect(bad.output.trimEnd().split("\n")).toHaveLength(1);
});

test.each([
  ["a good score", GOOD],
  ["a hard one", HARD],
  ["a bad one", BAD],
  ["notation alone", guitarScoreText("[G7] C3+E3+G3+C4+E4/1", { layout: "notation" })],
])("the JSON on %s is what its schema says", async (_, xml) => {
  const { output } = await runInMemory(["check", "--json", "a.musicxml"], { "a.musicxml": xml });
  const fits = new Ajv({ allErrors: true }).compile(CHECK_SCHEMA);
  fits(JSON.parse(output));
  expect(fits.errors).toBeNull();
});

test("figures are those of the score", async () => {
  const xml = guitarScoreText("2:1:1+1:5:4/2 1:1:1/2 | [G7] 4:3:2+3:4:3+1:0/2 4:0+3:0+2:0/2", { tempo: 60 });
  const { output } = await runInMemory(["check", "--json", "a.musicxml"], { "a.musicxml": xml });
  const { summary } = JSON.parse(output);
  expect(summary).toMatchObject({ attacks: 9, grips: 3, guideTones: { grips: 2, complete: 1 } });
  // Fret 1 to fret 5 of a 650 mm string: 163.1 - 36.5 mm.
  expect(summary.widestReach.reachMm).toBeCloseTo(126.6, 0);
  expect(summary.widestReach).toMatchObject({ measure: 1, beat: 1 });
});

test("what was refused is said in JSON too", async () => {
  const { output, errors } = await runInMemory(["check", "--json", "a.musicxml"], {
    "a.musicxml": "<html/>",
  });
  expect(JSON.parse(output).findings[0].rule).toBe("not-a-score");
  expect(errors).toContain("a.musicxml, line 1");
});

test("a compressed score from standard input is read as well", async () => {
  const ran = await runInMemory(["check", "-"], { "-": compressedScore(BAD) });
  expect(ran.status).toBe(4);
  expect(ran.output).toContain("standard input, measure 2, beat 3");
});

test("what the program arranges passes its own check, and an edit that breaks it does not", async () => {
  const lead = leadSheetFromText("title: Two Geese\ntempo: 80\n\n[C] G4/2 E4/4 C5/4 | [G7] B4/2 [C] C5/2 ||");
  const { files } = await runInMemory(["arrange", "a.musicxml", "-o", "b.musicxml"], { "a.musicxml": lead });
  const written = new TextDecoder().decode(files.get("b.musicxml"));
  expect((await runInMemory(["check", "b.musicxml"], { "b.musicxml": written })).status).toBe(0);
  const edited = written.replace(/<fret>(\d+)<\/fret>/, (_, fret) => `<fret>${Number(fret) + 1}</fret>`);
  const ran = await runInMemory(["check", "b.musicxml"], { "b.musicxml": edited });
  expect(ran.status).toBe(4);
  expect(ran.output).toMatch(
    /b\.musicxml, measure 1, beat 1: error: The note is .* On this string it is fret \d+\./,
  );
});

test.each(Object.keys(OPTIONS))(
  "--%s is taken where a check goes by it, else refused by its name",
  async (option) => {
    const { type } = OPTIONS[option as keyof typeof OPTIONS];
    const words = [`--${flagNameOf(option)}`, ...(type === "boolean" ? [] : ["1"])];
    const ran = await runInMemory(["check", "a.musicxml", ...words], { "a.musicxml": GOOD });
    const known: readonly string[] = OPTIONS_FOR.check;
    if (known.includes(option)) expect(ran.errors).not.toContain("no use for");
    else {
      expect(ran.status).toBe(2);
      expect(ran.errors).toContain(`no use for --${flagNameOf(option)}`);
    }
  },
);

test("one score at a time", async () => {
  expect((await runInMemory(["check"])).status).toBe(2);
  expect((await runInMemory(["check", "a.musicxml", "b.musicxml"])).status).toBe(2);
});

import { Ajv } from "ajv";
import { describe, expect, test } from "vitest";
import { REPORT_SCHEMA } from "../../src/reporting/report-schema.js";
import { VERSION } from "../../src/version.js";
import { readScoreText } from "../../src/xml/container.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { runInMemory } from "../support/outside-in-memory.js";

const TUNE = leadSheetFromText(`title: Two Geese
key: 0 major
time: 4/4
tempo: 80

[C] G4/2 E4/4 C5/4 | [G7] B4/2 [C] C5/2 ||
`);
const GEESE = { "geese.musicxml": TUNE };

const text = (bytes: Uint8Array | undefined): string => new TextDecoder().decode(bytes);

test("what the report has to say of the hand is told too", async () => {
  const words = ["arrange", "geese.musicxml", "-o", "a.musicxml", "--level", "elementary"];
  const told = await runInMemory(words, GEESE);
  expect(told.errors).toMatch(/^geese.musicxml: note: At the elementary level/m);
  const { findings } = JSON.parse((await runInMemory([...words, "--json"], GEESE)).output);
  expect(findings).toContainEqual(expect.objectContaining({ rule: "level-leaves-out" }));
});

describe("files", () => {
  test("the guitar score goes beside the lead sheet where no name is given", async () => {
    const ran = await runInMemory(["arrange", "tunes/geese.xml"], { "tunes/geese.xml": TUNE });
    expect(ran.status, ran.errors).toBe(0);
    expect([...ran.files.keys()]).toEqual(["tunes/geese.xml", "tunes/geese-guitar.musicxml"]);
    expect(text(ran.files.get("tunes/geese-guitar.musicxml"))).toContain("<sign>TAB</sign>");
    expect(ran.errors).toContain("Written: tunes/geese-guitar.musicxml");
  });

  test("a file that is there already is replaced only where it is named", async () => {
    const files = { ...GEESE, "geese-guitar.musicxml": "fingers changed by hand" };
    const refused = await runInMemory(["arrange", "geese.musicxml"], files);
    expect(refused.status).toBe(2);
    expect(refused.errors).toContain("geese-guitar.musicxml is there already");
    expect(text(refused.files.get("geese-guitar.musicxml"))).toBe("fingers changed by hand");
    const named = await runInMemory(["arrange", "geese.musicxml", "-o", "geese-guitar.musicxml"], files);
    expect(named.status).toBe(0);
    expect(text(named.files.get("geese-guitar.musicxml"))).toContain("<score-partwise");
  });

  test("an output name that ends in .mxl gets a compressed score with the same music", async () => {
    const plain = await runInMemory(["arrange", "geese.musicxml", "-o", "a.musicxml"], GEESE);
    const compressed = await runInMemory(["arrange", "geese.musicxml", "-o", "a.mxl"], GEESE);
    const read = readScoreText(compressed.files.get("a.mxl") ?? new Uint8Array());
    expect(read.isCompressed).toBe(true);
    expect(read.text).toBe(text(plain.files.get("a.musicxml")));
    const again = await runInMemory(["arrange", "a.mxl", "-o", "-"], {
      "a.mxl": compressed.files.get("a.mxl") ?? "",
    });
    expect(again.status).toBe(0);
  });

  test("a report says what it was made from, with what, and from which part", async () => {
    const flute = TUNE.replace(/<part-name>[^<]*<\/part-name>/, "<part-name>Tin whistle</part-name>");
    const words = ["arrange", "geese.musicxml", "-o", "a.musicxml", "--texture", "lean"];
    const asked = { "geese.musicxml": flute };
    const report = JSON.parse((await runInMemory([...words, "--json"], asked)).output);
    expect(report).toMatchObject({
      version: VERSION,
      input: "geese.musicxml",
      options: { texture: "lean", frets: 15, lead: "keep" },
      melody: { part: "P1", partName: "Tin whistle" },
    });
    const fits = new Ajv({ allErrors: true }).compile(REPORT_SCHEMA);
    fits(report);
    expect(fits.errors).toBeNull();
    const { files, errors } = await runInMemory([...words, "--report", "a.txt"], asked);
    expect(errors).toContain("from part P1 (Tin whistle)");
    expect(text(files.get("a.txt"))).toContain(
      `Made by Undervoice ${VERSION}, geese.musicxml, texture lean\n`,
    );
  });

  test("standard input goes to standard output, and only the score goes there", async () => {
    const ran = await runInMemory(["arrange", "-"], { "-": TUNE });
    expect(ran.status).toBe(0);
    expect(ran.output).toMatch(/^<\?xml/);
    expect(ran.output.trimEnd()).toMatch(/<\/score-partwise>$/);
    expect(ran.errors).toContain("Two Geese");
    expect(ran.files.size).toBe(0);
  });

  test("a report goes where it is asked for, as its name says", async () => {
    const asJson = await runInMemory(
      ["arrange", "geese.musicxml", "-o", "a.musicxml", "--report", "a.json"],
      GEESE,
    );
    const fits = new Ajv({ allErrors: true }).compile(REPORT_SCHEMA);
    fits(JSON.parse(text(asJson.files.get("a.json"))));
    expect(fits.errors).toBeNull();
    const asText = await runInMemory(
      ["arrange", "geese.musicxml", "-o", "a.musicxml", "--report", "a.txt"],
      GEESE,
    );
    expect(text(asText.files.get("a.txt"))).toMatch(/^Two Geese\nKey: C major\n/);
    expect(text(asText.files.get("a.txt"))).toMatch(/^Made by Undervoice .*, geese.musicxml$/m);
  });

  test("the lead sheet is not written over by a score without it", async () => {
    const ran = await runInMemory(
      ["arrange", "geese.musicxml", "-o", "./geese.musicxml", "--lead", "drop"],
      GEESE,
    );
    expect(ran.status).toBe(2);
    expect(text(ran.files.get("geese.musicxml"))).toBe(TUNE);
  });

  test.each([
    [
      "a file that is not there",
      ["arrange", "swans.musicxml"],
      "swans.musicxml: cannot be read: there is no such file",
    ],
    [
      "a place that may not be written",
      ["arrange", "geese.musicxml", "-o", "/barred/a.musicxml"],
      "/barred/a.musicxml: cannot be written",
    ],
  ])("%s is said by its name, with the status for files", async (_, words, message) => {
    const ran = await runInMemory(words, GEESE);
    expect(ran.status).toBe(3);
    expect(ran.errors).toContain(message);
    expect(ran.errors.trimEnd().split("\n")).toHaveLength(1);
    expect([...ran.files.keys()]).toEqual(["geese.musicxml"]);
  });
});

describe("what is printed", () => {
  test("the summary says title, key, notes and the hardest place in a few lines", async () => {
    const { output, errors } = await runInMemory(["arrange", "geese.musicxml", "-o", "a.musicxml"], GEESE);
    expect(output).toBe("");
    expect(errors).toMatch(/^Two Geese\nKey: C major\nMelody: 5 notes from part P1 \(Melody\): \d+ struck/);
    expect(errors).toMatch(/^Hardest move: /m);
    expect(errors.split("\n").length).toBeLessThan(12);
  });

  test("--quiet prints nothing where all is well", async () => {
    const ran = await runInMemory(["arrange", "geese.musicxml", "-o", "a.musicxml", "--quiet"], GEESE);
    expect(ran.output + ran.errors).toBe("");
    expect(ran.status).toBe(0);
  });

  test("--quiet still says that the key is another one", async () => {
    const low = leadSheetFromText("title: Low\n\n[C] A2/4 C5/4 E5/4 A5/4");
    const ran = await runInMemory(["arrange", "low.musicxml", "-o", "a.musicxml", "-q"], {
      "low.musicxml": low,
    });
    expect(ran.status, ran.errors).toBe(0);
    const moved = /^low\.musicxml: warning: The melody does not lie .* in \S+ major/;
    expect(ran.errors === "" || moved.test(ran.errors), ran.errors).toBe(true);
  });

  test.each(["a.pdf", "a.mp3", "tunes/a.txt"])("a score is not written as %s", async (output) => {
    const ran = await runInMemory(["arrange", "geese.musicxml", "-o", output], GEESE);
    expect(ran.status).toBe(2);
    expect(ran.errors).toContain("a score is written as .musicxml, .xml or .mxl");
    expect([...ran.files.keys()]).toEqual(["geese.musicxml"]);
  });

  test("--json prints one JSON report and nothing else", async () => {
    const ran = await runInMemory(["arrange", "geese.musicxml", "-o", "a.musicxml", "--json"], GEESE);
    expect(JSON.parse(ran.output)).toMatchObject({ title: "Two Geese", melody: { notes: 5 } });
    expect(ran.errors).toBe("");
  });

  test("--json answers a score that is refused with JSON too", async () => {
    const ran = await runInMemory(["arrange", "geese.musicxml", "--json"], { "geese.musicxml": "<html/>" });
    expect(ran.status).toBe(1);
    const { findings } = JSON.parse(ran.output);
    expect(findings.at(-1)).toMatchObject({ severity: "error", place: { file: "geese.musicxml" } });
  });

  test("--json and a score on standard output are refused together", async () => {
    const ran = await runInMemory(["arrange", "-", "--json"], { "-": TUNE });
    expect(ran.status).toBe(2);
    expect(ran.output).toBe("");
  });
});

describe("wishes", () => {
  const wished = (wishes: unknown) =>
    runInMemory(["arrange", "geese.musicxml", "-o", "a.musicxml", "--json", "--wishes", "w.json"], {
      ...GEESE,
      "w.json": typeof wishes === "string" ? wishes : JSON.stringify({ wishes }),
    });

  test("a wish in the file is granted", async () => {
    const ran = await wished([{ measure: 1, beat: 1, play: "single" }]);
    expect(ran.status, ran.errors).toBe(0);
    expect(JSON.parse(ran.output).events[0]).toMatchObject({ measure: 1, beat: 1, attack: "single" });
  });

  test.each<[string, unknown, number, RegExp, object]>([
    ["a file that is not JSON", "wishes", 2, /^w\.json: error: The wishes are not JSON/, { file: "w.json" }],
    [
      "a wish that there is not",
      [{ measure: 1, beat: 1, hum: true }],
      2,
      /^w\.json, measure 1, beat 1: error: Wish 1 has none of/,
      { file: "w.json", measure: 1, beat: 1 },
    ],
    [
      "a wish for a measure there is not",
      [{ measures: [99], texture: "full" }],
      1,
      /^geese\.musicxml, measure 99, beat 1: error: Wish 1 \(measure 99\)/,
      { file: "geese.musicxml", measure: 99, beat: 1 },
    ],
  ])("%s is refused and nothing is written", async (_, wishes, status, said, place) => {
    const ran = await wished(wishes);
    expect(ran.status).toBe(status);
    expect(ran.errors).toMatch(said);
    expect(JSON.parse(ran.output).findings.at(-1).place).toEqual(place);
    expect([...ran.files.keys()]).not.toContain("a.musicxml");
  });

  test("wishes and score cannot both be read from standard input", async () => {
    const ran = await runInMemory(["arrange", "-", "--wishes", "-"], { "-": TUNE });
    expect(ran.status).toBe(2);
    expect(ran.errors).toContain("standard input");
  });
});

describe("--explain", () => {
  test("prints each moment after the summary", async () => {
    const ran = await runInMemory(["arrange", "geese.musicxml", "-o", "a.musicxml", "--explain"], GEESE);
    expect(ran.output.match(/^measure \d+, beat [\d.]+: [A-G][b#]?\d, /gm)?.length).toBeGreaterThanOrEqual(5);
    expect(ran.errors).toMatch(/^Two Geese\n/);
  });

  test.each(["--json", "--quiet"])("and %s are refused together", async (flag) => {
    const ran = await runInMemory(["arrange", "geese.musicxml", "--explain", flag], GEESE);
    expect(ran.status).toBe(2);
    expect(ran.errors).toContain(flag);
  });
});

describe("options", () => {
  test("every option of the table can be given as a flag", async () => {
    const words =
      "--texture full --key D --lead drop --capo 2 --frets 14 --scale-length 640 --strings 1-2 --diagrams";
    const ran = await runInMemory(
      [
        "arrange",
        "geese.musicxml",
        "-o",
        "a.musicxml",
        "--json",
        ...words.split(" "),
        "--tuning",
        "D2 A2 D3 G3 B3 E4",
      ],
      GEESE,
    );
    expect(ran.status, ran.errors).toBe(0);
    const report = JSON.parse(ran.output);
    expect(report.key.after).toBe("D major");
    expect(report.melody.single).toBeLessThan(report.melody.notes);
    const strings = report.events.map((event: { notes: { string: number }[] }) => event.notes.at(-1)?.string);
    expect(Math.max(...strings)).toBeLessThanOrEqual(2);
  });

  test.each([
    ["an unknown flag", ["--colour", "red"], "--colour"],
    ["a flag without its value", ["--key"], "--key"],
    ["a number that is none", ["--frets", "many"], "option frets"],
    ["a number out of range", ["--scale-length", "9000"], "option scaleLength"],
    ["options that contradict", ["--strings", "1-5", "--tuning", "G3 C4 E4 A4"], "option tuning"],
    ["two inputs", ["other.musicxml"], "one input"],
  ])("%s is refused by its name and nothing is written", async (_, words, name) => {
    const ran = await runInMemory(["arrange", "geese.musicxml", "-o", "a.musicxml", ...words], GEESE);
    expect(ran.status).toBe(2);
    expect(ran.errors).toContain(name);
    expect(ran.output).toBe("");
    expect([...ran.files.keys()]).toEqual(["geese.musicxml"]);
  });
});

describe("scores that are refused", () => {
  test.each([
    ["an empty file", ""],
    ["a file that is not XML", "dear diary"],
    ["XML that is no score", "<html/>"],
    ["a score that breaks off", TUNE.slice(0, 1500)],
    ["a score without chord symbols", TUNE.replace(/<harmony>[\s\S]*?<\/harmony>/g, "")],
  ])("%s gets one line with the file's name and leaves no file", async (_, content) => {
    const ran = await runInMemory(["arrange", "odd.musicxml", "-o", "a.musicxml"], {
      "odd.musicxml": content,
    });
    expect(ran.status).toBe(1);
    const errors = ran.errors
      .trimEnd()
      .split("\n")
      .filter((line) => line.includes(": error: "));
    expect(errors).toHaveLength(1);
    expect(errors[0]).toMatch(/^odd\.musicxml[,:]/);
    expect([...ran.files.keys()]).toEqual(["odd.musicxml"]);
  });
});

import { describe, expect, test } from "vitest";
import { runInMemory } from "../support/outside-in-memory.js";
import { harmony, leadSheet, note } from "../support/score-text.js";

const G4 = note("G4", 16);
const OLD = leadSheet(harmony("C") + harmony("A", "minor") + G4, harmony("F", "mystery") + G4);
const SOUND = leadSheet(harmony("C") + G4);

describe("undervoice mend", () => {
  test("writes beside the score, and says what was mended and what is left", async () => {
    const ran = await runInMemory(["mend", "old.musicxml"], { "old.musicxml": OLD });
    expect(ran.status).toBe(0);
    expect(ran.output).toBe("");
    expect(ran.errors.split("\n")).toEqual([
      "Mended (1):",
      "  old.musicxml, part P1, measure 1, beat 1: warning: Two chord symbols stand on one beat; they were spread over beats 1 and 3.",
      "Left as it is (1):",
      '  old.musicxml, part P1, measure 2, beat 1: warning: The chord kind "mystery" says nothing that can be read; only its root and fifth are used. Enter the chord symbol again.',
      "Written: old-mended.musicxml",
      "",
    ]);
    expect([...ran.files.keys()]).toEqual(["old.musicxml", "old-mended.musicxml"]);
  });

  test("puts the score on standard output where it came from standard input", async () => {
    const ran = await runInMemory(["mend", "-", "--quiet"], { "-": OLD });
    expect(ran.status).toBe(0);
    expect(ran.output).toContain("<offset>8</offset>");
    expect(ran.errors).toBe("");
  });

  test("writes nothing of its own accord where there is nothing to mend", async () => {
    const ran = await runInMemory(["mend", "a.musicxml"], { "a.musicxml": SOUND });
    expect(ran).toMatchObject({ status: 0, errors: "Nothing to mend.\n" });
    expect([...ran.files.keys()]).toEqual(["a.musicxml"]);
    const named = await runInMemory(["mend", "a.musicxml", "-o", "b.musicxml"], { "a.musicxml": SOUND });
    expect(named.files.has("b.musicxml")).toBe(true);
  });

  test("with --json says the same as data", async () => {
    const ran = await runInMemory(["mend", "old.musicxml", "--json"], { "old.musicxml": OLD });
    const { mended, left } = JSON.parse(ran.output);
    expect(mended).toMatchObject([{ rule: "chords-spread", place: { file: "old.musicxml", measure: 1 } }]);
    expect(left).toMatchObject([{ rule: "chord-kind-unusable" }]);
  });

  test.each([
    [["mend"], "mend takes one score, and there are 0"],
    [["mend", "old.musicxml", "--frets", "12"], "mend has no use for --frets"],
    [["mend", "old.musicxml", "--json", "-o", "-"], "contradict"],
    [["mend", "old.musicxml", "--tune", "x"], "The option tune cannot be"],
  ])("%j is refused", async (line, why) => {
    const ran = await runInMemory(line, { "old.musicxml": OLD });
    expect(ran.status).toBe(2);
    expect(ran.errors).toContain(why);
  });

  test("does not replace a file that nobody named, and refuses a score without chords", async () => {
    const files = { "old.musicxml": OLD, "old-mended.musicxml": "there" };
    expect((await runInMemory(["mend", "old.musicxml"], files)).status).toBe(2);
    const bare = await runInMemory(["mend", "bare.musicxml"], { "bare.musicxml": leadSheet(G4) });
    expect(bare.status).toBe(1);
    expect(bare.errors).toContain("There are no chords in the score");
    expect(bare.files.size).toBe(1);
  });
});

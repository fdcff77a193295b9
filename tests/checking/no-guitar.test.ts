import { expect, test } from "vitest";
import { runInMemory } from "../support/outside-in-memory.js";
import { harmony, leadSheet, note } from "../support/score-text.js";

const SAID = "There is no guitar part in the score";
const bars = (after = "") =>
  leadSheet(
    harmony("C") + note("C5", 8, { after }) + note("E5", 8),
    harmony("G") + note("D5", 8) + note("B4", 8),
  );

test("a lead sheet that is checked is said to have no guitar part, and an arranged one is not", async () => {
  const alone = await runInMemory(["check", "a.musicxml"], { "a.musicxml": bars() });
  expect(alone.output).toContain(SAID);
  const made = await runInMemory(["arrange", "a.musicxml", "-o", "b.musicxml"], { "a.musicxml": bars() });
  const checked = await runInMemory(["check", "b.musicxml"], {
    "b.musicxml": made.files.get("b.musicxml") ?? "",
  });
  expect(checked.output).not.toContain(SAID);
}, 60_000);

test("a melody with fingers is for a guitar", async () => {
  const fingered = bars("<notations><technical><fingering>2</fingering></technical></notations>");
  const ran = await runInMemory(["check", "a.musicxml"], { "a.musicxml": fingered });
  expect(ran.output).not.toContain(SAID);
});

import { closeSync, mkdtempSync, openSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, expect, test } from "vitest";
import { withClock } from "../../src/cli/still-working.js";

const folder = mkdtempSync(join(tmpdir(), "undervoice-"));
afterEach(() => rmSync(folder, { recursive: true, force: true }));

test("work that lets nothing else happen is told of while it lasts, and the line is gone when it is done", () => {
  const path = join(folder, "terminal");
  const fileDescriptor = openSync(path, "w+");
  const written = () => readFileSync(path, "utf8");
  /** Keeps this thread busy until something was said, as an arrangement does. */
  const work = () => {
    for (const until = performance.now() + 20_000; performance.now() < until && written() === ""; );
    return "answer";
  };
  expect(withClock("Arranging geese.musicxml", work, { fileDescriptor, silenceMs: 1, eachMs: 1 })).toBe(
    "answer",
  );
  const [before, line, ...after] = written().split("\r\u001b[K");
  expect([before, line, after.at(-1)]).toEqual([
    "",
    expect.stringMatching(/^Arranging geese.musicxml, \d+ s$/),
    "",
  ]);
  const quick = written();
  expect(() =>
    withClock(
      "never said",
      () => {
        throw new Error("refused");
      },
      { fileDescriptor, silenceMs: 60_000 },
    ),
  ).toThrow("refused");
  expect(written()).toBe(quick);
  closeSync(fileDescriptor);
});

import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { arrangeScore } from "../../src/arrange-score.js";
import { checkScore } from "../../src/checking/check-score.js";
import { Findings, textOfFinding } from "../../src/diagnostics.js";
import { writeGuitarPart } from "../../src/musicxml/guitar-writing/write-guitar-part.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { readScoreText } from "../../src/xml/container.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { printXml } from "../../src/xml/print-xml.js";
import { attacksRead, attacksWritten } from "../support/attacks.js";
import { isSharedHere, SHARED } from "../support/shared.js";

const SAMPLES = fileURLToPath(new URL("../../sample-scores/", import.meta.url));
const LAYOUTS = ["parts", "joined", "tab"] as const;

/** Arranges a lead sheet once and holds each layout of it to what the arrangement says and a hand can do. */
function expectPlayable(path: string, given: object): void {
  const document = parseXml(readScoreText(readFileSync(path)).text);
  const asked = completeOptions(given);
  const arranged = arrangeScore(document, asked, new Findings());
  for (const staves of LAYOUTS) {
    const options = { ...asked, staves };
    const written = writeGuitarPart(document, arranged.sheet, arranged.arrangement, options);
    const checked = checkScore(parseXml(printXml(written)), options);
    expect(checked.score.layout).toBe(staves);
    expect(attacksRead(checked.score)).toEqual(attacksWritten(arranged));
    const errors = checked.findings.filter(({ severity }) => severity === "error").map(textOfFinding);
    expect(errors, path).toEqual([]);
    if (asked.lead === "keep") expect(checked.score.melody.source).toBe("lead");
  }
}

describe("a score of our own is read back as it was arranged, and a hand can play it", () => {
  test.each(readdirSync(SAMPLES))("%s", (name) => expectPlayable(join(SAMPLES, name), {}));

  test.skipIf(!isSharedHere)(
    "twenty lead sheets of the corpus",
    () => {
      const folder = join(SHARED, "corpus/lead-sheets");
      const names = readdirSync(folder).filter((_, index) => index % 20 === 3);
      expect(names.length).toBeGreaterThanOrEqual(20);
      names.forEach((name, index) => {
        expectPlayable(join(folder, name), { frets: 20, lead: index % 2 === 0 ? "keep" : "drop" });
      });
    },
    300_000,
  );
});

test.each([
  { scaleLength: 400, texture: "full" },
  { hand: 1.15, texture: "full" },
])("a score that was made for a hand and a guitar of its own (%o) is checked by them", (given) => {
  const errorsFor = (xml: string) =>
    checkScore(parseXml(xml), completeOptions({}))
      .findings.filter(({ severity }) => severity === "error")
      .map(textOfFinding);
  for (const name of readdirSync(SAMPLES)) {
    const document = parseXml(readScoreText(readFileSync(join(SAMPLES, name))).text);
    const { document: written } = arrangeScore(document, completeOptions(given), new Findings());
    expect(errorsFor(printXml(written)), name).toEqual([]);
  }
});

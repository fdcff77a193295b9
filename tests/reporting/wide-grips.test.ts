import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { arrangeScore } from "../../src/arrange-score.js";
import { checkScore } from "../../src/checking/check-score.js";
import { Findings } from "../../src/diagnostics.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { parseXml } from "../../src/xml/parse-xml.js";

const SAMPLES = readdirSync("sample-scores").filter((name) => name.endsWith(".musicxml"));

test.each(SAMPLES)("an arrangement of %s and a check of it count the same wide grips", (name) => {
  const sheet = parseXml(readFileSync(`sample-scores/${name}`, "utf8"));
  for (const texture of ["fluent", "lean"]) {
    const options = completeOptions({ texture });
    const { document, report } = arrangeScore(sheet, options, new Findings());
    const caution = report.findings.find(({ rule }) => rule === "reach-beyond-relaxed")?.message ?? "0";
    const cautioned = caution.startsWith("One") ? 1 : Number.parseInt(caution, 10);
    const { findings } = checkScore(document, options);
    expect(cautioned, texture).toBe(findings.filter(({ rule }) => rule === "finger-stretch").length);
  }
});

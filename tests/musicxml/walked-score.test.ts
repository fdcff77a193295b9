import { expect, test } from "vitest";
import { Findings, parseXml } from "../../src/index.js";
import { partwiseScore } from "../../src/musicxml/timeline/partwise.js";
import { walkedParts } from "../../src/musicxml/timeline/walked-score.js";
import { withoutChildren } from "../../src/xml/indentation.js";
import { attributeOf } from "../../src/xml/xml-tree.js";
import { note, score } from "../support/score-text.js";

const NO_DURATION = "<note><pitch><step>C</step><octave>4</octave></pitch><type>half</type></note>";
const SCORE = parseXml(score([{ bars: [note("C4", 8) + NO_DURATION] }, { bars: [note("E4", 16)] }])).root;

test("a part that was walked is not walked again, and what was odd about it is said again", () => {
  const [first, second] = [new Findings(), new Findings()];
  const walked = walkedParts(SCORE, first);
  const again = walkedParts(SCORE, second);
  expect(again[0]).toBe(walked[0]);
  expect(first.all.map(({ rule }) => rule)).toContain("duration-missing");
  expect(second.all).toEqual(first.all);
});

test("a score without one of its parts has the others as they were walked", () => {
  const [, other] = walkedParts(SCORE, new Findings());
  const rest = withoutChildren(SCORE, (part) => part.name === "part" && attributeOf(part, "id") === "P1");
  expect(walkedParts(rest, new Findings())).toEqual([other]);
  expect(walkedParts(rest, new Findings())[0]).toBe(other);
});

test("a score measure by measure is regrouped once", () => {
  const timewise = parseXml(
    '<score-timewise><part-list><score-part id="P1"><part-name>Tune</part-name></score-part></part-list><measure number="1"><part id="P1"/></measure></score-timewise>',
  ).root;
  expect(partwiseScore(timewise)).toBe(partwiseScore(timewise));
});

import { expect, test } from "vitest";
import { barreMarksAmong } from "../../src/musicxml/guitar-writing/barre-marks.js";
import { element, type XmlElement } from "../../src/xml/xml-tree.js";

const direction = (content: XmlElement): XmlElement =>
  element("direction", {}, [element("direction-type", {}, [content])]);

const nameOfBarre = () => direction(element("words", {}, ["CV"]));

const line = (type: "start" | "stop", attributes: Readonly<Record<string, string | number>> = {}) =>
  direction(
    element("bracket", {
      type,
      number: 6,
      "line-end": type === "start" ? "none" : "down",
      "line-type": "dashed",
      ...attributes,
    }),
  );

test("a line is one of ours where the name of a barre begins it, and so is an end of ours that lost its begin", () => {
  const ours = [
    { at: 0, element: nameOfBarre() },
    { at: 0, element: line("start") },
    { at: 4, element: line("stop") },
    { at: 8, element: line("stop") },
  ];
  const players = [
    { at: 10, element: line("start") },
    { at: 12, element: line("stop") },
    { at: 14, element: line("stop", { "line-end": "up" }) },
    { at: 16, element: line("stop", { number: 1 }) },
    { at: 18, element: line("stop", { "line-type": "solid" }) },
  ];
  const marks = barreMarksAmong([...ours, ...players]);
  expect(ours.map(({ element: one }) => marks.has(one))).toEqual(ours.map(() => true));
  expect(players.map(({ element: one }) => marks.has(one))).toEqual(players.map(() => false));
});

import { expect, test } from "vitest";
import { arrangeScore, completeOptions, Findings, parseXml, performanceOf } from "../../src/index.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";

const performed = (text: string) => {
  const document = parseXml(new TextDecoder().decode(new TextEncoder().encode(leadSheetFromText(text))));
  const { sheet, arrangement } = arrangeScore(document, completeOptions({}), new Findings());
  return performanceOf(sheet.tune, arrangement, undefined);
};
const HEAD = "title: Round and Back\nkey: 0 major\ntime: 4/4\ntempo: 60\n\n";

test("a strain that is repeated is heard twice, at the tempo of the score", () => {
  const once = performed(`${HEAD}[C] G4/2 E4/2 | [F] A4/1 ||\n`);
  const twice = performed(`${HEAD}|: [C] G4/2 E4/2 | [F] A4/1 :|\n`);
  expect(once.seconds).toBe(8);
  expect(twice.seconds).toBe(16);
  expect(twice.notes).toHaveLength(once.notes.length * 2);
  expect(twice.measures.map(({ index }) => index)).toEqual([0, 1, 0, 1]);
});

test("the melody is heard on top of what sounds under it", () => {
  const { notes } = performed(`${HEAD}[C] G4/2 E4/2 | [F] A4/1 ||\n`);
  const first = notes.filter(({ seconds }) => seconds === 0);
  expect(Math.max(...first.map(({ midi }) => midi))).toBe(first.find(({ isMelody }) => isMelody)?.midi);
  expect(first.length).toBeGreaterThan(1);
});

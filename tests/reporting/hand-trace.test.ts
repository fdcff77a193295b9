import { expect, test } from "vitest";
import { arrangeScore, completeOptions, Findings, handTrace, parseXml } from "../../src/index.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";

const options = completeOptions({ capo: 2 });
const document = parseXml(
  leadSheetFromText(
    "title: Up the Ladder\nkey: 0 major\ntime: 4/4\ntempo: 100\n\n[C] G4/4 C5/4 E5/4 G5/4 | [F] A5/2 F5/2 ||\n",
  ),
);
const { sheet, arrangement, report } = arrangeScore(document, options, new Findings());
const trace = handTrace(sheet, arrangement, options);

test("there is a place of the hand for every moment of the report, and the moves are the report's", () => {
  expect(trace.moments).toHaveLength(report.events.length);
  report.events.forEach(({ moveMm }, index) => {
    const move = trace.moves.find(({ from, to }) => from === index && to === index + 1);
    expect(move?.moveMm).toBe(moveMm);
  });
});

test("places are millimetres from the nut with the capo counted in", () => {
  // L (1 - 2^(-n/12)), as fretPositionMm cites: fret 10 above a capo at 2 is half the string.
  expect(trace.neck.fretsMm[9]).toBeCloseTo(325, 3);
  expect(trace.neck.nutMm).toBeCloseTo(650 * (1 - 2 ** (-2 / 12)), 3);
  for (const { spanMm } of trace.moments) if (spanMm) expect(spanMm[0]).toBeGreaterThan(trace.neck.nutMm);
});

test("a move is easy up to a fifth of the speed the hand is said to travel at, hard from three fifths, beyond it beyond", () => {
  for (const { moveMm, secondsAvailable, effort } of trace.moves) {
    const share = moveMm / secondsAvailable / options.shift;
    const expected =
      share > 1 ? "beyond" : moveMm < 0.5 ? "still" : share > 0.6 ? "hard" : share > 0.2 ? "brisk" : "easy";
    expect(effort).toBe(expected);
  }
});

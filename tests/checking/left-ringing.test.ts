import { expect, test } from "vitest";
import { arrangeScore } from "../../src/arrange-score.js";
import { placementsAt } from "../../src/arrangement/hand-moves.js";
import { momentsOf } from "../../src/checking/moments.js";
import { Findings } from "../../src/diagnostics.js";
import { readGuitarScore } from "../../src/musicxml/guitar-reading/read-guitar-part.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { printXml } from "../../src/xml/print-xml.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";

const TUNE = leadSheetFromText(`title: Up the Ladder Again
key: 0 major
time: 4/4
tempo: 100

[C] G4/4 C5/4 A4/4 G4/4 | [F] C5/2 A4/2 | [C] E4/4. G4/8 C5/2 | [G7] B4/4 D5/4 F5/4 D5/4 | [C] C5/1 ||`);

test("a melody note that was left ringing is under its finger as long as the arrangement has it there", () => {
  const { document, arrangement } = arrangeScore(parseXml(TUNE), completeOptions({}), new Findings());
  const score = readGuitarScore(parseXml(printXml(document)).root, { melody: "auto" }, new Findings());
  const read = momentsOf(score, arrangement.instrument).map(({ held }) =>
    held.map(({ string, fret, finger }) => ({ string, fret, finger })),
  );
  const played = arrangement.events.map((event) =>
    placementsAt(arrangement, event)
      .map(({ string, fret, finger }) => ({ string, fret, finger }))
      .toSorted((one, other) => other.string - one.string),
  );
  expect(arrangement.supports.filter(({ leftByMelody }) => leftByMelody !== undefined)).not.toEqual([]);
  expect(read).toEqual(played);
});

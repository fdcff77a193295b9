import { arrangeTune, type TuneWishes } from "./arranging/arrange-tune.js";
import type { Arrangement, Placement } from "./arranging/arrangement.js";
import { bestKey } from "./arranging/best-key.js";
import { chooseKey } from "./arranging/choose-key.js";
import { gracePlacements } from "./arranging/grace-placements.js";
import { transposedTune } from "./arranging/transposed-tune.js";
import { type Findings, ScoreError } from "./diagnostics.js";
import type { LeadSheet } from "./musicxml/lead-sheet.js";
import { readLeadSheet } from "./musicxml/read-lead-sheet.js";
import { writeGuitarPart } from "./musicxml/write-guitar-part.js";
import type { XmlDocument } from "./musicxml/xml-tree.js";
import { instrumentFrom, keyWishFrom, melodyStringsFrom } from "./option-values.js";
import type { ArrangeOptions } from "./options.js";
import { type Report, reportOf } from "./reporting/report.js";
import { midiOf } from "./song/pitch.js";

/** A guitar score, and everything it was made from. */
export interface Arranged {
  readonly document: XmlDocument;
  readonly sheet: LeadSheet;
  readonly arrangement: Arrangement;
  readonly report: Report;
}

/**
 * A lead sheet goes in; the same score with a fingered guitar part comes out. Pure: no file, no clock.
 *
 * @throws ScoreError where the score holds no tune, or one that cannot be played as asked
 */
export function arrangeScore(document: XmlDocument, options: ArrangeOptions, findings: Findings): Arranged {
  const sheet = readLeadSheet(document.root, options, findings);
  const arrangement = arrangementFor(sheet, options, findings);
  return {
    document: writeGuitarPart(document, sheet, arrangement, options),
    sheet,
    arrangement,
    report: reportOf(sheet, arrangement, options, findings),
  };
}

/** From the tune as it came to a grip for every moment of it, in the key that was asked for. */
function arrangementFor(sheet: LeadSheet, options: ArrangeOptions, findings: Findings): Arrangement {
  const { tune } = sheet;
  const wishes: TuneWishes = {
    texture: options.texture,
    rests: options.rests,
    alternatives: options.alternatives,
    wishes: [],
    notes: options.notes === "auto" ? "auto" : options.notes === "3" ? 3 : 4,
    shift: options.shift,
    tempo: options.tempo,
    instrument: instrumentFrom(options),
    melodyStrings: melodyStringsFrom(options),
  };
  const key = keyWishFrom(options);
  const best = key.kind === "best" ? bestKey(tune, wishes) : undefined;
  if (best !== undefined) return withGraces(sheet, best, wishes);
  const { transposition, board } = chooseKey(tune, wishes, key, findings);
  const arrangement = arrangeTune(transposedTune(tune, transposition), transposition, {
    ...wishes,
    ...board,
  });
  if (arrangement === undefined) {
    throw new ScoreError({
      rule: "no-way-through",
      place: {},
      found: "a melody that no sequence of grips plays",
      expected: "more strings, more frets or another key",
      message: "No way was found to play this melody from its first note to its last.",
    });
  }
  return withGraces(sheet, arrangement, { ...wishes, ...board });
}

/** Grace notes are fingered after the path is chosen; they take no part in it. */
function withGraces(sheet: LeadSheet, arrangement: Arrangement, wishes: TuneWishes): Arrangement {
  const { semitones } = arrangement.transposition;
  const graces = sheet.source.written.flatMap(({ id, kind, onset, pitch }) =>
    kind === "grace" && pitch !== undefined ? [{ id, onset, midi: midiOf(pitch) + semitones }] : [],
  );
  const placements: ReadonlyMap<number, Placement> = gracePlacements(graces, arrangement, wishes);
  return { ...arrangement, graces: placements };
}

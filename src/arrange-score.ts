import type { Arrangement, Transposition } from "./arrangement/arrangement.js";
import type { TuneWishes } from "./arranging/arrange-settings.js";
import { arrangeTune } from "./arranging/arrange-tune.js";
import { refuseContradiction } from "./arranging/conflicting-wishes.js";
import { type GraceNote, gracePlacements } from "./arranging/grace-placements.js";
import { transposedTune } from "./arranging/transposed-tune.js";
import { type Findings, ScoreError } from "./diagnostics.js";
import type { CameBack } from "./edits/came-back.js";
import { keptGraces } from "./edits/kept-graces.js";
import { type AskedFor, arrangedAgain } from "./edits/rearrange.js";
import { optionsOfReturn } from "./edits/recorded-options.js";
import { bestKey } from "./keys/best-key.js";
import { chooseKey } from "./keys/choose-key.js";
import { returnedScore } from "./musicxml/guitar-reading/returned-score.js";
import { writeGuitarPart } from "./musicxml/guitar-writing/write-guitar-part.js";
import type { LeadSheet } from "./musicxml/lead-sheet/lead-sheet.js";
import { readLeadSheet } from "./musicxml/lead-sheet/read-lead-sheet.js";
import { withOneTune } from "./musicxml/lead-sheet/several-tunes.js";
import { marksNotKept } from "./musicxml/round-trip/marks-not-kept.js";
import type { ArrangeOptions } from "./options/options.js";
import { type Report, reportOf } from "./reporting/report.js";
import { keyWishFrom, tuneWishesFrom } from "./settings-from-options.js";
import { midiOf } from "./song/pitch.js";
import type { Wish } from "./wishes/wishes.js";
import { linesWished, NO_WISHES, type WishesFile } from "./wishes/wishes-file.js";
import { wishesInTicks } from "./wishes/wishes-in-ticks.js";
import type { XmlDocument } from "./xml/xml-tree.js";

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
 * @throws ScoreError where the score holds no tune, or one that cannot be played as asked or wished
 */
export function arrangeScore(
  score: XmlDocument,
  given: ArrangeOptions,
  findings: Findings,
  wishes: WishesFile = NO_WISHES,
): Arranged {
  const document = withOneTune(score, given.tune, findings);
  const came = given.edits === "keep" ? returnedScore(document, given.melody, findings) : undefined;
  const { recorded, inForce: options, areAlike } = optionsOfReturn(given, came);
  const source = came?.document ?? document;
  const sheet = readLeadSheet(source.root, options, findings, linesWished(wishes));
  const asked = askedFor(options, wishesInTicks(sheet.tune, wishes));
  const arrangement =
    (came &&
      arrangementAgain(sheet, { ...came, isRestKept: areAlike }, askedFor(recorded), asked, findings)) ??
    arrangementFor(sheet, asked, findings);
  const written = writeGuitarPart(source, sheet, arrangement, options);
  const isLeadAsBefore = came !== undefined && recorded.lead === options.lead;
  const lost = isLeadAsBefore ? marksNotKept(document.root, written.root) : undefined;
  if (lost !== undefined) findings.add(lost);
  return {
    document: written,
    sheet,
    arrangement,
    report: reportOf(sheet, arrangement, options, findings),
  };
}

/** From the tune as it came to a grip for every moment of it, in the key that was asked for. */
function arrangementFor(sheet: LeadSheet, { wishes, key }: AskedFor, findings: Findings): Arrangement {
  const { tune } = sheet;
  const best = key.kind === "best" ? bestKey(tune, wishes) : undefined;
  if (best !== undefined) return withGraces(sheet, best, wishes);
  const { transposition, board } = chooseKey(tune, wishes, key, findings);
  const arrangement = arrangeTune(transposedTune(tune, transposition), transposition, {
    ...wishes,
    ...board,
  });
  if (arrangement === undefined) {
    refuseContradiction(transposedTune(tune, transposition), { ...wishes, ...board });
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

/** What the options and the player's own wishes ask of an arrangement. */
const askedFor = (options: ArrangeOptions, wishes: readonly Wish[] = []): AskedFor => ({
  wishes: { ...tuneWishesFrom(options), wishes },
  key: keyWishFrom(options),
});

/** From the tune and the guitar part that came back; undefined where nothing of that can be kept. */
function arrangementAgain(
  sheet: LeadSheet,
  came: CameBack,
  made: AskedFor,
  now: AskedFor,
  findings: Findings,
): Arrangement | undefined {
  const again = arrangedAgain(sheet.tune, came, made, now, findings);
  if (again === undefined) return undefined;
  const { arrangement, wishes, fresh, freshBoard } = again;
  const graces = gracesOf(sheet, arrangement.transposition);
  const written = gracePlacements(graces, fresh, freshBoard);
  const tune = transposedTune(sheet.tune, arrangement.transposition);
  const kept = keptGraces(graces, written, tune, came, arrangement.instrument, findings);
  return { ...arrangement, graces: gracePlacements(graces, arrangement, wishes, kept) };
}

/** Grace notes are fingered after the path is chosen; they take no part in it. */
const withGraces = (sheet: LeadSheet, arrangement: Arrangement, wishes: TuneWishes): Arrangement => ({
  ...arrangement,
  graces: gracePlacements(gracesOf(sheet, arrangement.transposition), arrangement, wishes),
});

/** The grace notes of a lead sheet as the guitar sounds them. */
const gracesOf = ({ source }: LeadSheet, { semitones }: Transposition): readonly GraceNote[] =>
  source.written.flatMap(({ id, kind, onset, pitch }) =>
    kind === "grace" && pitch !== undefined ? [{ id, onset, midi: midiOf(pitch) + semitones }] : [],
  );

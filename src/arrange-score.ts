import type { Arrangement } from "./arrangement/arrangement.js";
import type { GraceNote } from "./arranging/grace-placements.js";
import type { Findings } from "./diagnostics.js";
import { rearrange } from "./edits/rearrange.js";
import { type AskedFor, arrangeInKey } from "./keys/arrange-in-key.js";
import { leadFindings } from "./lead-findings.js";
import { returnedScore } from "./musicxml/guitar-reading/returned-score.js";
import { writeGuitarPart } from "./musicxml/guitar-writing/write-guitar-part.js";
import type { LeadSheet } from "./musicxml/lead-sheet/lead-sheet.js";
import { readLeadSheet } from "./musicxml/lead-sheet/read-lead-sheet.js";
import { withOneTune } from "./musicxml/lead-sheet/several-tunes.js";
import { asWritten, playersMarks } from "./musicxml/players-marks/returned-marks.js";
import type { ArrangeOptions } from "./options/options.js";
import { optionsInForce } from "./options/recorded-options.js";
import { type Report, reportOf } from "./reporting/report.js";
import { tuneWishesFrom } from "./settings-from-options.js";
import { midiOf } from "./song/pitch.js";
import { keyWishFrom } from "./wishes/key-wish.js";
import type { Wish } from "./wishes/wishes.js";
import { linesWished, NO_WISHES, type WishesFile } from "./wishes/wishes-file.js";
import { wishesInTicks } from "./wishes/wishes-in-ticks.js";
import type { XmlDocument } from "./xml/xml-tree.js";

/** A guitar score, and everything it was made from. */
export interface Arranged {
  /** Written when it is first asked for: who only looks at the path has no need of it. */
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
  const returned = given.edits === "keep" ? returnedScore(document, given.melody, findings) : undefined;
  const { recorded, inForce: options, areAlike } = optionsInForce(given, returned);
  const source = returned?.document ?? document;
  const sheet = readLeadSheet(source.root, options, findings, linesWished(wishes));
  const asked = askedFor(options, wishesInTicks(sheet.tune, wishes));
  const { tune } = sheet;
  const graces = gracesOf(sheet);
  const rearranged =
    returned &&
    rearrange(tune, graces, { ...returned, isRestKept: areAlike }, askedFor(recorded), asked, findings);
  const arrangement = rearranged ?? arrangeInKey(tune, graces, asked, findings);
  const marks = returned && playersMarks(returned, options, recorded, findings);
  let written: XmlDocument | undefined;
  const writtenOut = (): XmlDocument => {
    written ??= writeGuitarPart(
      source,
      marks?.leftOutOf(sheet) ?? sheet,
      arrangement,
      options,
      marks?.hungOn ?? asWritten,
    );
    return written;
  };
  const isOnRecord = rearranged !== undefined && returned?.mark !== undefined;
  const before = isOnRecord ? { recorded, digests: returned.digests } : undefined;
  for (const finding of leadFindings(sheet, arrangement, options, before)) findings.add(finding);
  // What of them has no place is known when the part is written.
  if (marks !== undefined) writtenOut();
  return {
    get document() {
      return writtenOut();
    },
    sheet,
    arrangement,
    report: reportOf(sheet, arrangement, options, findings),
  };
}

/** What the options and the player's own wishes ask of an arrangement. */
const askedFor = (options: ArrangeOptions, wishes: readonly Wish[] = []): AskedFor => ({
  wishes: { ...tuneWishesFrom(options), wishes },
  key: keyWishFrom(options),
});

/** The grace notes of a lead sheet as they are written. */
const gracesOf = ({ source }: LeadSheet): readonly GraceNote[] =>
  source.written.flatMap(({ id, kind, onset, pitch }) =>
    kind === "grace" && pitch !== undefined ? [{ id, onset, midi: midiOf(pitch) }] : [],
  );

import { type Digests, measuresIn } from "../../arrangement/measure-digests.js";
import type { Findings } from "../../diagnostics.js";
import type { ArrangeOptions } from "../../options/options.js";
import type { XmlElement } from "../../xml/xml-tree.js";
import type { GuitarStaves } from "../guitar-reading/guitar-staves.js";
import type { ReturnedScore } from "../guitar-reading/returned-score.js";
import { PARTS_OF_LAYOUT } from "../guitar-writing/staff-style.js";
import type { MarkedParts } from "../guitar-writing/write-guitar-part.js";
import type { LeadSheet } from "../lead-sheet/lead-sheet.js";
import { hangMarks } from "./hang-marks.js";
import { marksNotKept } from "./marks-not-kept.js";
import { marksOnRecord } from "./marks-on-record.js";
import { marksThatCame, type PlayersMarks, signsNotOnRecord } from "./players-marks.js";
import { withoutSigns } from "./without-signs.js";

/** The marks of a guitar part that came back. */
export interface ReturnedMarks {
  /** The guitar's parts, newly written, with the marks that the player added; those that have no place are said. */
  readonly hungOn: (parts: readonly XmlElement[]) => MarkedParts;
  /** The lead sheet to write from, without those marks where it is that guitar part. */
  readonly leftOutOf: (sheet: LeadSheet) => LeadSheet;
}

/** The guitar's parts where no player has added marks to them. */
export const asWritten = (parts: readonly XmlElement[]): MarkedParts => ({
  parts,
  record: marksOnRecord(parts),
});

/** Whether a player added marks to a guitar part since it was written; not where nothing is on record of it. */
export const hasPlayersMarks = (
  staves: GuitarStaves,
  digests: Digests,
  isPluckingWritten: boolean,
): boolean => signsNotOnRecord(marksIn(staves, digests, isPluckingWritten)).size > 0;

/** undefined where it has none. */
export function playersMarks(
  { guitar, staves, digests }: ReturnedScore,
  options: ArrangeOptions,
  recorded: ArrangeOptions,
  findings: Findings,
): ReturnedMarks | undefined {
  const players = marksIn(staves, digests, recorded.rightHand === "fingers");
  if (players.came.length === 0) return undefined;
  const written = PARTS_OF_LAYOUT[options.staves].flatMap(({ staves: inPart }, part) =>
    inPart.map(({ staff, isTab }) => ({ part, staff, isTab })),
  );
  return {
    leftOutOf: (sheet) =>
      withoutSigns(sheet, guitar.melody.source === "lead" ? new Set() : signsNotOnRecord(players)),
    hungOn: (parts) => {
      const hung = hangMarks(parts, written, players);
      const lost = marksNotKept(hung.lost);
      if (lost !== undefined) findings.add(lost);
      return { parts: hung.parts, record: marksOnRecord(parts) };
    },
  };
}

function marksIn(
  { notation, tab }: GuitarStaves,
  digests: Digests | undefined,
  isPluckingWritten: boolean,
): PlayersMarks {
  const marked = [
    ...(notation === undefined ? [] : [{ part: notation.part, staff: notation.staff, isTab: false }]),
    ...(tab === undefined ? [] : [{ part: tab.part, staff: tab.staff, isTab: true }]),
  ];
  const measures = (notation ?? tab)?.part.measures.length;
  return marksThatCame(marked, {
    record: digests === undefined ? undefined : (digests.marks ?? ""),
    isInPlace: digests !== undefined && measuresIn(digests.guitar) === measures,
    isPluckingWritten,
  });
}

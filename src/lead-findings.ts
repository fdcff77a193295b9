import type { Arrangement } from "./arrangement/arrangement.js";
import { chordDigest, type Digests } from "./arrangement/measure-digests.js";
import type { Finding } from "./diagnostics.js";
import { chordsNotInLead } from "./musicxml/guitar-writing/chords-in-lead.js";
import { leadKeyFinding, leadMove } from "./musicxml/lead-moving/lead-key.js";
import type { LeadSheet } from "./musicxml/lead-sheet/lead-sheet.js";
import type { ArrangeOptions } from "./options/options.js";
import { transposedTune } from "./song/transposition.js";

/** How a guitar part was made that came back and stays where it is. */
export interface MadeBefore {
  readonly recorded: Pick<ArrangeOptions, "leadKey" | "leadChords">;
  readonly digests: Digests | undefined;
}

/** What is to be said of the lead sheet beside the guitar, but for what was said when a guitar part was made `before`. */
export function leadFindings(
  sheet: LeadSheet,
  { transposition }: Pick<Arrangement, "transposition">,
  options: ArrangeOptions,
  before: MadeBefore | undefined,
): readonly Finding[] {
  const { tune } = sheet;
  const move = leadMove(sheet, transposition, options);
  const stayedBefore = move?.kind === "stays" && before?.recorded.leadKey === options.leadKey;
  const notInLead = options.leadChords ? chordsNotInLead(sheet) : undefined;
  // The symbols that are there are those worked out then, or it was said then that they are others.
  const areChordsAsBefore =
    before?.recorded.leadChords === true &&
    before.digests?.chords === chordDigest(transposedTune(tune, transposition));
  return [
    ...(move === undefined || stayedBefore ? [] : [leadKeyFinding(move, sheet, transposition)]),
    ...(notInLead === undefined || areChordsAsBefore ? [] : [notInLead]),
  ];
}

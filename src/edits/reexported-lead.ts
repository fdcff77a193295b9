import type { Digests } from "../arrangement/measure-digests.js";
import { Findings } from "../diagnostics.js";
import { guitarStaves } from "../musicxml/guitar-reading/guitar-staves.js";
import { readGuitarScore } from "../musicxml/guitar-reading/read-guitar-part.js";
import { readLeadSheet } from "../musicxml/lead-sheet/read-lead-sheet.js";
import { hasPlayersMarks } from "../musicxml/players-marks/returned-marks.js";
import { withMarkOf } from "../musicxml/round-trip/mark-score.js";
import { type OwnMark, readDigests, readOwnMark } from "../musicxml/round-trip/provenance.js";
import { partwiseScore } from "../musicxml/timeline/partwise.js";
import { walkedParts } from "../musicxml/timeline/walked-score.js";
import { instrumentFrom } from "../options/instrument-from-options.js";
import { completeOptions } from "../options/option-checking.js";
import { indentationOf, withAppended } from "../xml/indentation.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  everyNamed,
  type XmlDocument,
  type XmlElement,
} from "../xml/xml-tree.js";
import { uneditedAt } from "./unedited-measures.js";

/**
 * A lead sheet that was exported again, with the guitar part beside it that a player has edited since it was
 * made from the lead sheet as it was: a score as it would have come back from the player. undefined where
 * the lead sheet has a guitar part of its own, the earlier score has none of ours or an unedited one, or
 * their parts have the same names.
 */
export function withEditedGuitar(lead: XmlDocument, earlier: XmlDocument): XmlDocument | undefined {
  const [score, before] = [partwiseScore(lead.root), partwiseScore(earlier.root)];
  const mark = readOwnMark(before);
  const digests = readDigests(before);
  if (mark === undefined || digests === undefined || mark.lead !== "keep") return undefined;
  if (readOwnMark(score) !== undefined || !isEdited(before, mark, digests)) return undefined;
  const isOurs = (one: XmlElement) => mark.parts.includes((attributeOf(one, "id") ?? "").trim());
  const [list, earlierList] = [childNamed(score, "part-list"), childNamed(before, "part-list")];
  const ids = new Set(everyNamed(score, "score-part").map((entry) => attributeOf(entry, "id")));
  if (list === undefined || earlierList === undefined || mark.parts.some((id) => ids.has(id)))
    return undefined;
  const indentation = indentationOf(score);
  const entries = childrenNamed(earlierList, "score-part").filter(isOurs);
  const listed = withAppended(list, entries, undefined, 1);
  const marked = withMarkOf(
    { ...score, children: score.children.map((child) => (child === list ? listed : child)) },
    mark,
    digests,
    indentation,
  );
  return { ...lead, root: withAppended(marked, childrenNamed(before, "part").filter(isOurs), undefined, 0) };
}

/** Whether any measure of the guitar part is another than was written, or has marks that it was not written with. */
function isEdited(score: XmlElement, mark: OwnMark, digests: Digests): boolean {
  const staves = guitarStaves(walkedParts(score, new Findings()), mark);
  const isPluckingWritten = mark.options.rightHand === "fingers";
  if (staves !== undefined && hasPlayersMarks(staves, digests, isPluckingWritten)) return true;
  const options = completeOptions({});
  const guitar = readGuitarScore(score, options, new Findings());
  const { tune } = readLeadSheet(score, options, new Findings());
  const isAsWritten = uneditedAt({ guitar, digests, isRestKept: true }, tune, instrumentFrom(options));
  return tune.measures.some(({ start }) => !isAsWritten(start));
}

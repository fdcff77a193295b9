import type { Finding } from "../../diagnostics.js";
import type { ArrangeOptions } from "../../options/options.js";
import { keyName } from "../../song/key-name.js";
import type { Transposition } from "../../song/transposition.js";
import type { LeadSheet } from "../lead-sheet/lead-sheet.js";
import { withoutOwnParts } from "../round-trip/own-parts.js";
import { readOwnMark } from "../round-trip/provenance.js";
import { isOtherKey, whyLeadStays } from "./moved-lead.js";
import { isReadAlike } from "./read-alike.js";

/** What becomes of a lead sheet beside a guitar that plays in another key. */
export type LeadMove =
  | { readonly kind: "moves" }
  | { readonly kind: "stays"; readonly why: string | undefined };

/** undefined where the guitar plays in the lead sheet's key, or no lead sheet stands beside it. */
export function leadMove(
  sheet: LeadSheet,
  transposition: Transposition,
  { lead, leadKey }: Pick<ArrangeOptions, "lead" | "leadKey">,
): LeadMove | undefined {
  const { source } = sheet;
  const mark = readOwnMark(source.score);
  const isLeadGone = mark?.parts.includes(source.melodyPartId) === true;
  if (lead === "drop" || isLeadGone || !isOtherKey(transposition)) return undefined;
  if (leadKey === "written") return { kind: "stays", why: undefined };
  const why =
    whyLeadStays(withoutOwnParts(source.score, mark), source.textsTaken.size > 0, transposition) ??
    (isReadAlike(sheet, transposition.interval) ? undefined : READ_OTHERWISE);
  return why === undefined ? { kind: "moves" } : { kind: "stays", why };
}

const READ_OTHERWISE = "it would need too many sharps or flats there";

/** Says in which keys the two stand beside each other. */
export function leadKeyFinding(
  move: LeadMove,
  { tune }: Pick<LeadSheet, "tune">,
  { interval }: Transposition,
): Finding {
  const key = tune.keys[0] ?? { at: 0, fifths: 0, mode: undefined };
  const [from, to] = [keyName(key, "1P"), keyName(key, interval)];
  if (move.kind === "moves")
    return {
      rule: "lead-moved",
      severity: "note",
      place: {},
      found: `a lead sheet in ${from}`,
      expected: `the key of the guitar, ${to}`,
      message: `The lead sheet beside the guitar was moved along, from ${from} to ${to}.`,
    };
  return {
    rule: "lead-stays",
    severity: "warning",
    place: {},
    found: `a lead sheet in ${from}`,
    expected: `the key of the guitar, ${to}`,
    message: `The guitar plays in ${to}; the lead sheet beside it stays in ${from}${move.why === undefined ? "" : `, as ${move.why}`}.`,
  };
}

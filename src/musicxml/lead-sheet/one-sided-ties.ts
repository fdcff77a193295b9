import type { Finding, Place } from "../../diagnostics.js";
import type { MeasureJump } from "../timeline/playing-order.js";
import { startsTie } from "../timeline/walk-measure.js";
import { placeIn, type WalkedPart } from "../timeline/walked-part.js";
import type { LineItem } from "./melody-line.js";

/**
 * Ties that begin on a note of the tune and join nothing. Where playing jumps at the note's end the other side
 * is elsewhere: in a later ending, or at the start of a repeat.
 */
export function oneSidedTies(
  part: WalkedPart,
  written: readonly LineItem[],
  jumps: readonly MeasureJump[],
): readonly Finding[] {
  return written.flatMap(({ kind, tiedOn, element, measure, at, length }): readonly Finding[] => {
    if (kind !== "note" || tiedOn || element === undefined || !startsTie(element)) return [];
    const here = part.measures[measure];
    if (here === undefined) return [];
    const isAtEnd = at.add(length).gte(here.start.add(here.length));
    if (isAtEnd && jumps.some(({ after }) => after === measure)) return [];
    return [tieOneSided(placeIn(part, here, at))];
  });
}

const tieOneSided = (place: Place): Finding => ({
  rule: "tie-one-sided",
  severity: "warning",
  place,
  found: "a tie that begins here and ends nowhere",
  expected: "a note of the same pitch right after it, or no tie",
  message: "A tie begins here, and no note of the same pitch follows; it was read as no tie.",
});

import { type Finding, Findings, ScoreError } from "../diagnostics.js";
import { withEditedGuitar } from "../edits/reexported-lead.js";
import type { ArrangeOptions } from "../options/options.js";
import { readScore } from "../read-score.js";
import type { XmlDocument } from "../xml/xml-tree.js";

/** Rule of the finding that says that edits of an earlier guitar score were taken over. */
export const EDITS_OF_BESIDE = "guitar-beside-kept";

/**
 * A lead sheet that was exported again, with the guitar part that a player has edited in the score it is to replace;
 * the lead sheet alone where there is nothing of that kind.
 */
export function withEditedBeside(
  lead: XmlDocument,
  beside: Uint8Array | undefined,
  { edits }: Pick<ArrangeOptions, "edits">,
  findings: Findings,
): XmlDocument {
  if (beside === undefined || edits === "discard") return lead;
  try {
    const whole = withEditedGuitar(lead, readScore(beside, new Findings()));
    if (whole === undefined) return lead;
    findings.add(besideKept);
    return whole;
  } catch (error) {
    // What stands there is no score of ours; what is wrong with the lead sheet itself is said when it is arranged.
    if (error instanceof ScoreError) return lead;
    throw error;
  }
}

const besideKept: Finding = {
  rule: EDITS_OF_BESIDE,
  severity: "note",
  place: {},
  found: "a guitar score that a player has edited, where this one goes",
  expected: "a lead sheet exported again",
  message:
    "The guitar score that this one replaces has been edited since it was written: what is in it is kept where tune and chords are the same.",
  hint: "To arrange afresh instead, give the option edits with the value discard.",
};

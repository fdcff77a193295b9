import type { Finding } from "../diagnostics.js";
import type { GuitarNote } from "../guitar/guitar-score.js";
import { type JudgedScore, placeOf, type Rule, stringText } from "./judged-score.js";

/** Stopped strings without a finger, each by itself; said once for a score that shows no fingers at all. */
export const fingerMissing: Rule = (judged) => {
  const { score } = judged;
  const without = score.notes.flatMap((note) => {
    const { kind, string, fret, finger } = note;
    // The staff that shows fingers does not have it: staves-disagree says so.
    if (score.layout !== "tab" && note.notation === undefined) return [];
    const isBare = kind === "note" && string !== undefined && fret !== undefined && fret > 0 && !finger;
    return isBare ? [{ note, string, fret }] : [];
  });
  if (without.length === 0) return [];
  if (!judged.hasFingers) return [noFingers(without.length)];
  return without.map(({ note, string, fret }) => missing(judged, note, string, fret));
};

const missing = ({ score }: JudgedScore, note: GuitarNote, string: number, fret: number): Finding => ({
  rule: "finger-missing",
  severity: "warning",
  place: placeOf(score, note),
  found: `${stringText({ string, fret })} without a finger`,
  expected: "a finger from 1 to 4",
  message: `No finger is given for ${stringText({ string, fret })}.`,
});

const noFingers = (count: number): Finding => ({
  rule: "fingers-missing",
  severity: "note",
  place: {},
  found: `${count} stopped notes without fingers`,
  expected: "fingers from 1 to 4",
  message: "The score shows no fingers; grips were judged by the best fingers a hand could find.",
});

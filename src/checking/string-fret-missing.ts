import { pitchText } from "../song/pitch.js";
import { placeOf, type Rule } from "./judged-score.js";

/** TAB that does not say where a note is played. A grace note may be left to the player. */
export const stringFretMissing: Rule = ({ score, hasStrings }) =>
  !hasStrings
    ? []
    : score.notes
        .filter(({ kind, tab }) => kind === "note" && (tab !== undefined || score.layout === "notation"))
        .filter(({ string, fret }) => string === undefined || fret === undefined)
        .map((note) => ({
          rule: "string-fret-missing",
          severity: "error",
          place: placeOf(score, note),
          found: `${pitchText(note.pitch)} without ${note.string === undefined ? "string" : "fret"}`,
          expected: "a string and a fret",
          message: `${pitchText(note.pitch)} has no ${note.string === undefined ? "string" : "fret"} in the TAB.`,
          hint: "Enter it on the TAB staff.",
        }));

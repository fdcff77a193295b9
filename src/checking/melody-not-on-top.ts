import { midiText, pitchText } from "../song/pitch.js";
import { placeOf, type Rule } from "./judged-score.js";

/**
 * Notes that sound above the tune. Certain where the tune is known from the lead sheet; where it is the
 * guitar's own upper voice, a voice may also have been meant to cross.
 */
export const melodyNotOnTop: Rule = ({ score }) => {
  const { source, notes: tune } = score.melody;
  const notes = score.notes.filter(({ kind }) => kind === "note");
  return tune.flatMap((note) => {
    const end = note.onset + note.length;
    const above = notes.find(
      (other) => other.midi > note.midi && other.onset < end && other.onset + other.length > note.onset,
    );
    if (above === undefined) return [];
    return [
      {
        rule: "melody-not-on-top",
        severity: source === "lead" ? "error" : "warning",
        place: placeOf(score, note),
        found: `${pitchText(above.pitch)} above the melody`,
        expected: `nothing above ${midiText(note.midi)}`,
        message: `${pitchText(above.pitch)} sounds above the melody note ${midiText(note.midi)}.`,
        hint: "Leave it out or put it an octave lower.",
      },
    ];
  });
};

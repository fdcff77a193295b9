import type { Finding } from "../diagnostics.js";
import type { GuitarNote } from "../guitar/guitar-score.js";
import { pitchText } from "../song/pitch.js";
import { type JudgedScore, placeOf, type Rule } from "./judged-score.js";

/** Two notes on one string at once: struck together, or one struck while the other should ring on. */
export const stringTaken: Rule = (judged) => {
  const lastOn = new Map<number, GuitarNote>();
  return judged.score.notes.flatMap((note): readonly Finding[] => {
    if (note.kind === "grace" || note.string === undefined) return [];
    const before = lastOn.get(note.string);
    lastOn.set(note.string, note);
    if (before === undefined || before.onset + lengthOnString(before) <= note.onset) return [];
    // Melody and bass on one note: two stems, one string.
    if (before.onset === note.onset && before.fret === note.fret) return [];
    return [taken(judged, before, note)];
  });
};

/** As the TAB has it, where it speaks of the note. */
const lengthOnString = ({ tab, length }: GuitarNote): number => tab?.length ?? length;

function taken({ score }: JudgedScore, before: GuitarNote, note: GuitarNote): Finding {
  const isTogether = before.onset === note.onset;
  const [one, other] = [pitchText(before.pitch), pitchText(note.pitch)];
  return {
    rule: "string-taken",
    severity: "error",
    place: placeOf(score, note),
    found: `${one} and ${other} on string ${note.string}`,
    expected: "one note on a string at a time",
    message: isTogether
      ? `${one} and ${other} are struck on string ${note.string} at once.`
      : `${other} is struck on string ${note.string}, where ${one} should still ring.`,
    hint: isTogether ? "Put one of them on another string." : `End ${one} here or take another string.`,
  };
}

import type { Finding } from "../diagnostics.js";
import type { ScoreMelodyNote } from "../guitar/guitar-score.js";
import { midiText } from "../song/pitch.js";
import { type JudgedScore, placeOf, type Rule } from "./judged-score.js";

/** Notes of the lead sheet that the guitar does not strike, or does not hold as long. */
export const melodyMissing: Rule = (judged) => {
  const { score } = judged;
  if (score.melody.source !== "lead") return [];
  return score.melody.notes.flatMap((note) => {
    const here = score.notes.filter(
      ({ kind, onset, midi }) => kind === "note" && onset === note.onset && midi === note.midi,
    );
    if (here.length === 0) return [missing(judged, note)];
    return here.some(({ length }) => length === note.length)
      ? []
      : [otherLength(judged, note, here[0]?.length ?? 0)];
  });
};

const missing = ({ score }: JudgedScore, note: ScoreMelodyNote): Finding => ({
  rule: "melody-missing",
  severity: "warning",
  place: placeOf(score, note),
  found: "a moment without the melody note",
  expected: `${midiText(note.midi)}, as in the lead sheet`,
  message: `The melody note ${midiText(note.midi)} of the lead sheet is not struck.`,
});

const otherLength = ({ score }: JudgedScore, note: ScoreMelodyNote, length: number): Finding => ({
  rule: "melody-length",
  severity: "warning",
  place: placeOf(score, note),
  found: `${length / score.ticksPerQuarter} quarter notes`,
  expected: `${note.length / score.ticksPerQuarter}, as in the lead sheet`,
  message: `The melody note ${midiText(note.midi)} lasts ${length / score.ticksPerQuarter} quarter notes, in the lead sheet ${note.length / score.ticksPerQuarter}.`,
});

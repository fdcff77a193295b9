import type { Finding } from "../diagnostics.js";
import type { GuitarNote } from "../guitar/guitar-score.js";
import { pitchText } from "../song/pitch.js";
import { harmonyAt } from "./harmony-at.js";
import { type JudgedScore, placeAt, type Rule } from "./judged-score.js";
import type { Moment } from "./moments.js";

/** Semitones under the melody that grate, with the names of the intervals. */
const CLASHES: Readonly<Record<number, string>> = { 1: "semitone", 13: "minor ninth" };

/**
 * Supporting notes a semitone or a minor ninth under the melody, unless the chord symbol asks for it. A
 * melody that passes over a chord that rings on is noted only.
 */
export const clashUnderMelody: Rule = (judged) =>
  judged.moments.flatMap((moment) => {
    const { melody } = moment;
    if (melody === undefined) return [];
    const asked = harmonyAt(judged, moment)?.plan.askedClash;
    const isNew = (note: GuitarNote) => note.onset === moment.onset || melody.onset === moment.onset;
    return moment.sounding
      .filter((note) => CLASHES[melody.midi - note.midi] !== undefined && isNew(note))
      .filter(({ midi }) => !(melody.midi - midi === 13 && midi % 12 === asked))
      .map((note) => clash(judged, moment, note, CLASHES[melody.midi - note.midi] ?? ""));
  });

function clash({ score }: JudgedScore, moment: Moment, note: GuitarNote, interval: string): Finding {
  const isStruck = note.onset === moment.onset;
  return {
    rule: "clash-under-melody",
    severity: isStruck ? "warning" : "note",
    place: placeAt(score, moment.onset, moment.measure),
    found: `${pitchText(note.pitch)} a ${interval} under the melody`,
    expected: "another distance",
    message: `${pitchText(note.pitch)} ${isStruck ? "is struck" : "rings on"} a ${interval} under the melody.`,
    hint: "Take another tone of the chord, or leave it out.",
  };
}

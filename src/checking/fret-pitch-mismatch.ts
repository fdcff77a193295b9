import type { Finding } from "../diagnostics.js";
import type { GuitarNote, StaffReading } from "../guitar/guitar-score.js";
import { midiAt, stringCount } from "../guitar/instrument.js";
import { pitchText } from "../song/pitch.js";
import { type JudgedScore, placeOf, type Rule, stringText } from "./judged-score.js";

/** A string and fret that sound another pitch than the note they stand on. */
export const fretPitchMismatch: Rule = (judged) => {
  const placed = judged.score.notes.flatMap((note) => placedNote(judged, note) ?? []);
  const [first] = placed;
  const isWholeScore =
    first !== undefined &&
    first.difference !== 0 &&
    placed.length > 1 &&
    placed.every(({ difference }) => difference === first.difference);
  if (isWholeScore) return [wholeScore(first.difference, judged.instrument.capo)];
  return placed.filter(({ difference }) => difference !== 0).map((one) => mismatch(judged, one));
};

interface PlacedNote {
  readonly note: GuitarNote;
  readonly reading: StaffReading;
  readonly string: number;
  readonly fret: number;
  /** Semitones from what string and fret sound up to the note's pitch. */
  readonly difference: number;
}

/** Undefined where there is nothing to compare; a harmonic sounds elsewhere than its fret says. */
function placedNote({ instrument }: JudgedScore, note: GuitarNote): PlacedNote | undefined {
  const reading = note.tab?.string === undefined ? note.notation : note.tab;
  const string = reading?.string;
  const fret = reading?.fret;
  if (reading === undefined || reading.isHarmonic || string === undefined || fret === undefined)
    return undefined;
  if (string < 1 || string > stringCount(instrument)) return undefined;
  return { note, reading, string, fret, difference: reading.midi - midiAt(instrument, string, fret) };
}

function mismatch({ score }: JudgedScore, { note, reading, string, fret, difference }: PlacedNote): Finding {
  const right = fret + difference;
  const there = stringText({ string, fret });
  return {
    rule: "fret-pitch-mismatch",
    severity: "error",
    place: placeOf(score, note),
    found: there,
    expected: right >= 0 ? stringText({ string, fret: right }) : "another string",
    message: `The note is ${pitchText(reading.pitch)}, and ${there} sounds ${semitones(-difference)}.`,
    hint: right >= 0 ? `On this string it is fret ${right}.` : "It lies below this string; take a lower one.",
  };
}

function wholeScore(difference: number, capo: number): Finding {
  const hint =
    difference % 12 === 0
      ? "The pitches were moved by an octave on the way: look at the transposition of the TAB staff."
      : "Give the tuning and the capo the score is played with: --tuning, --capo.";
  return {
    rule: "fret-pitch-mismatch",
    severity: "error",
    place: {},
    found: `every string and fret ${semitones(-difference)} than its note`,
    expected: capo === 0 ? "strings and frets that sound the notes" : `the same with a capo at fret ${capo}`,
    message: `Every string and fret of the score sounds ${semitones(-difference)} than its note.`,
    hint,
  };
}

const semitones = (count: number): string =>
  `${Math.abs(count)} semitone${Math.abs(count) === 1 ? "" : "s"} ${count < 0 ? "lower" : "higher"}`;

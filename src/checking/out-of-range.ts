import type { Finding } from "../diagnostics.js";
import type { GuitarNote } from "../guitar/guitar-score.js";
import { type Instrument, stringCount } from "../guitar/instrument.js";
import { placesOfPitch } from "../guitar/places-of-pitch.js";
import { pitchText } from "../song/pitch.js";
import { type JudgedScore, placeOf, type Rule, stringText } from "./judged-score.js";
import { isOnNeck } from "./moments.js";

/** Strings and frets that the instrument does not have, and pitches that none of its strings reaches. */
export const outOfRange: Rule = (judged) =>
  judged.score.notes.flatMap((note): readonly Finding[] => {
    const { string, fret } = note;
    if (string === undefined || fret === undefined)
      return isReached(judged.instrument, note.midi) ? [] : [pitchOutOfRange(judged, note)];
    if (!isOnNeck(judged.instrument, string, fret)) return [fretOutOfRange(judged, note, string, fret)];
    return fret > judged.highestFretWanted ? [fretHigh(judged, note, fret)] : [];
  });

const isReached = (instrument: Instrument, midi: number): boolean =>
  placesOfPitch(instrument, midi).length > 0;

function pitchOutOfRange({ score, instrument }: JudgedScore, note: GuitarNote): Finding {
  const lowest = Math.min(...instrument.openStrings) + instrument.capo;
  const isLow = note.midi < lowest;
  return {
    rule: "out-of-range",
    severity: "error",
    place: placeOf(score, note),
    found: pitchText(note.pitch),
    expected: "a pitch the instrument has",
    message: `${pitchText(note.pitch)} is ${isLow ? "below the lowest string" : "above the last fret"}.`,
    hint: "Guitar music sounds an octave lower than it is read; a clef with a small 8 or a transposition says so.",
  };
}

const fretOutOfRange = (
  { score, instrument }: JudgedScore,
  note: GuitarNote,
  string: number,
  fret: number,
): Finding => ({
  rule: "out-of-range",
  severity: "error",
  place: placeOf(score, note),
  found: stringText({ string, fret }),
  expected: `strings 1 to ${stringCount(instrument)}, frets 0 to ${instrument.frets}`,
  message: `There is no ${stringText({ string, fret })}: the instrument has ${stringCount(instrument)} strings and ${instrument.frets} frets${instrument.capo > 0 ? " above the capo" : ""}.`,
});

const fretHigh = ({ score, highestFretWanted }: JudgedScore, note: GuitarNote, fret: number): Finding => ({
  rule: "fret-high",
  severity: "note",
  place: placeOf(score, note),
  found: `fret ${fret}`,
  expected: `frets up to ${highestFretWanted}`,
  message: `Fret ${fret} is higher than fret ${highestFretWanted}.`,
  hint: "The option frets says how high is wanted.",
});

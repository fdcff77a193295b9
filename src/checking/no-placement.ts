import type { Finding } from "../diagnostics.js";
import type { GuitarNote } from "../guitar/guitar-score.js";
import { heldPitches } from "../guitar/placements-of-pitches.js";
import { placesOfPitch } from "../guitar/places-of-pitch.js";
import { pitchText } from "../song/pitch.js";
import { type JudgedScore, placeAt, type Rule } from "./judged-score.js";
import type { Moment } from "./moments.js";

/**
 * For notation without strings: chords that no strings, frets and fingers can hold, or none with the
 * fingers that are given. Each chord is judged by itself, with what rings on into it.
 */
export const noPlacement: Rule = (judged) => {
  if (judged.hasStrings) return [];
  const known = new Map<string, Answer>();
  return judged.moments.flatMap((moment) => {
    const notes = onePerPitch(moment.sounding).filter(({ midi }) => isReached(judged, midi));
    const key = notes.map(({ midi, finger }) => `${midi}:${finger ?? ""}`).join(" ");
    const answer = known.get(key) ?? answerFor(judged, notes);
    known.set(key, answer);
    return answer === "held" ? [] : [finding(judged, moment, notes, answer)];
  });
};

type Answer = "held" | "not-so-fingered" | "impossible";

function answerFor({ instrument }: JudgedScore, notes: readonly GuitarNote[]): Answer {
  const pitches = notes.map(({ midi }) => midi);
  const fingers = notes.map(({ finger }) => finger);
  if (heldPitches(instrument, pitches, fingers) !== undefined) return "held";
  return heldPitches(instrument, pitches) === undefined ? "impossible" : "not-so-fingered";
}

/** A pitch that two voices share is one string. */
const onePerPitch = (notes: readonly GuitarNote[]): readonly GuitarNote[] =>
  notes.filter((note, index) => notes.findIndex(({ midi }) => midi === note.midi) === index);

/** Pitches off the instrument are another rule's. */
const isReached = ({ instrument }: JudgedScore, midi: number): boolean =>
  placesOfPitch(instrument, midi).length > 0;

function finding(
  { score }: JudgedScore,
  moment: Moment,
  notes: readonly GuitarNote[],
  answer: Answer,
): Finding {
  const names = notes.map(({ pitch }) => pitchText(pitch)).join(" ");
  const isFingered = answer === "not-so-fingered";
  return {
    rule: "no-placement",
    severity: "error",
    place: placeAt(score, moment.onset, moment.measure),
    found: names,
    expected: "pitches that strings, frets and fingers can be found for",
    message: isFingered
      ? `${names} can be held, but not with the fingers that are given.`
      : `No strings, frets and fingers hold ${names} at once.`,
    hint: isFingered
      ? "Change the fingers or leave them to be found."
      : "Leave a note out or move one by an octave.",
  };
}

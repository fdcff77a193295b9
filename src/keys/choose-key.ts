import { type Fretboard, melodyPlaces } from "../arranging/candidates/struck-grips.js";
import { type Finding, type Findings, type Place, ScoreError } from "../diagnostics.js";
import { lastFretAbove, stringCount } from "../guitar/instrument.js";
import { distanceText, isOctaves } from "../song/distance-text.js";
import { keyName, tonicOf, writableTonic } from "../song/key-name.js";
import { measurePlace } from "../song/measure-place.js";
import {
  intervalBetween,
  midiOf,
  mod12,
  nameOf,
  type PitchName,
  parsePitchName,
  pitchClass,
} from "../song/pitch.js";
import type { Transposition } from "../song/transposition.js";
import type { KeyMark, MelodyNote, Tune } from "../song/tune.js";
import type { KeyWish } from "../wishes/key-wish.js";

/** Tonics by pitch class with the fewest accidentals in their signature. */
const MAJOR_TONICS = ["C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"];
const MINOR_TONICS = ["C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B"];

/** How a tune is moved, and where on the neck its melody then needs to go. */
export interface KeyChoice {
  readonly transposition: Transposition;
  readonly board: Fretboard;
}

/**
 * Where a tune can be played. To keep its key it is moved by octaves at most, then to the nearest key
 * that fits; a tune wider than the melody strings goes where the fewest notes need lower ones. Each such
 * step is a warning.
 *
 * @throws ScoreError for a named key in which the melody does not fit, and for a melody that fits nowhere
 */
export function chooseKey(tune: Tune, board: Fretboard, wish: KeyWish, findings: Findings): KeyChoice {
  if (wish.kind === "tonic") return { transposition: toTonic(tune, board, wish), board };
  const nearest = nearestFirst().find((semitones) => fits(tune, board, semitones));
  if (nearest !== undefined) {
    const transposition = transpositionBy(tune, nearest);
    if (nearest !== 0) findings.add(tuneMoved(tune, transposition));
    return { transposition, board };
  }
  return onMoreStrings(tune, board, findings);
}

/** Every way to move a tune by up to two octaves so that its melody fits, nearest first. */
export function fittingTranspositions(tune: Tune, board: Fretboard): readonly Transposition[] {
  return nearestFirst()
    .filter((semitones) => fits(tune, board, semitones))
    .map((semitones) => transpositionBy(tune, semitones));
}

/** Semitones to each of the twelve keys, nearest first. */
export const TO_EACH_KEY: readonly number[] = [0, -1, 1, -2, 2, -3, 3, -4, 4, -5, 5, 6];

/** The same key, or pitch, at every octave that a tune may be moved by, nearest first. */
export const atEachOctave = (semitones: number): readonly number[] =>
  [0, 12, -12, 24, -24].map((octaves) => semitones + octaves);

/** Same key first, octave by octave; then each next nearer key, with its octaves. */
const nearestFirst = (): readonly number[] => TO_EACH_KEY.flatMap(atEachOctave);

const fits = (tune: Tune, board: Fretboard, semitones: number): boolean =>
  notesOutside(tune, board, semitones).length === 0;

/** Melody notes that do not lie on their strings when the tune is moved so far. */
export const notesOutside = (tune: Tune, board: Fretboard, semitones: number): readonly MelodyNote[] =>
  tune.melody.filter((note) => melodyPlaces(board, note.midi + semitones).length === 0);

/** A move by semitones, spelled from tonic to tonic. */
export function transpositionBy(tune: Tune, semitones: number): Transposition {
  const from = tonicOfTune(tune);
  const isMinor = keyOfTune(tune).mode === "minor";
  const tonics = isMinor ? MINOR_TONICS : MAJOR_TONICS;
  const isSameKey = mod12(semitones) === 0;
  const to = isSameKey ? from : (parsePitchName(tonics[mod12(pitchClass(from) + semitones)] ?? "C") ?? from);
  return { semitones, interval: intervalTo(from, to, semitones) };
}

/** The interval of so many semitones from a note to one of a given name. */
function intervalTo(from: PitchName, to: PitchName, semitones: number): string {
  const start = { ...from, octave: 4 };
  const octave = (midiOf(start) + semitones - midiOf({ ...to, octave: 0 })) / 12;
  return intervalBetween(start, { ...to, octave });
}

const keyOfTune = (tune: Tune): KeyMark => tune.keys[0] ?? { at: 0, fifths: 0, mode: undefined };

function tonicOfTune(tune: Tune): PitchName {
  const key = keyOfTune(tune);
  return tonicOf(key.fifths, key.mode ?? "major");
}

function toTonic(tune: Tune, board: Fretboard, wish: Extract<KeyWish, { kind: "tonic" }>): Transposition {
  const mode = wish.mode ?? keyOfTune(tune).mode ?? "major";
  const from = tonicOf(keyOfTune(tune).fifths, mode);
  const up = mod12(pitchClass(wish.tonic) - pitchClass(from));
  const octaves = [up, up - 12, up + 12, up - 24].sort((a, b) => Math.abs(a) - Math.abs(b));
  const semitones = octaves.find((candidate) => fits(tune, board, candidate));
  if (semitones === undefined) throw keyDoesNotFit(tune, board, wish.tonic, octaves[0] ?? 0);
  return { semitones, interval: intervalTo(from, writableTonic(wish.tonic, mode), semitones) };
}

function onMoreStrings(tune: Tune, board: Fretboard, findings: Findings): KeyChoice {
  const wide = widerBoards(board).find((candidate) =>
    nearestFirst().some((semitones) => fits(tune, candidate, semitones)),
  );
  if (wide === undefined) throw melodyFitsNowhere(tune, board);
  const strays = (semitones: number) => notesOutside(tune, board, semitones).length;
  const possible = nearestFirst().filter((semitones) => fits(tune, wide, semitones));
  const best = possible.toSorted((a, b) => strays(a) - strays(b))[0] ?? 0;
  const transposition = transpositionBy(tune, best);
  if (best !== 0) findings.add(tuneMoved(tune, transposition));
  return { transposition, board: boardAt(tune, board, best, findings) };
}

/**
 * Where on the neck the melody of a tune goes that is moved so far: as asked where it lies there, else on more strings,
 * and on more frets if need be, with a warning. As asked too where no neck has it.
 */
export function boardAt(tune: Tune, board: Fretboard, semitones: number, findings: Findings): Fretboard {
  const strays = notesOutside(tune, board, semitones);
  const wide = widerBoards(board).find((candidate) => fits(tune, candidate, semitones));
  if (strays.length === 0 || wide === undefined) return board;
  const isWideAnywhere = fittingTranspositions(tune, board).length === 0;
  findings.add(moreOfTheNeckUsed(tune, strays, wide.instrument.frets, isWideAnywhere));
  return wide;
}

/** All strings up to the frets asked for, and where those are too few, up to the last there is. */
const widerBoards = ({ instrument }: Fretboard): readonly Fretboard[] =>
  [instrument.frets, lastFretAbove(instrument.capo)].map((frets) => ({
    instrument: { ...instrument, frets },
    melodyStrings: Array.from({ length: stringCount(instrument) }, (_, index) => index + 1),
  }));

const placeOf = (tune: Tune, { onset, measure }: MelodyNote): Place =>
  measurePlace(tune, onset, measure) ?? {};

const counted = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? "" : "s"}`;

const pitchText = (note: MelodyNote): string => `${nameOf(note.pitch)}${note.pitch.octave}`;

const lowestOf = (tune: Tune): MelodyNote | undefined => tune.melody.toSorted((a, b) => a.midi - b.midi)[0];
const highestOf = (tune: Tune): MelodyNote | undefined => tune.melody.toSorted((a, b) => b.midi - a.midi)[0];

function tuneMoved(tune: Tune, transposition: Transposition): Finding {
  const { semitones } = transposition;
  const isOctave = isOctaves(semitones);
  const [low, high] = [lowestOf(tune), highestOf(tune)];
  return {
    rule: isOctave ? "tune-moved-by-octave" : "tune-moved-to-other-key",
    severity: "warning",
    place: {},
    found: low === undefined || high === undefined ? "no notes" : `${pitchText(low)} to ${pitchText(high)}`,
    expected: "a melody within reach of its strings",
    message: `The melody does not lie on its strings as written; the guitar plays it ${distanceText(semitones)}${isOctave ? "" : `, in ${keyName(keyOfTune(tune), transposition.interval)}`}.`,
    hint: "Allow more strings, more frets or another tuning to keep it where it is.",
  };
}

function moreOfTheNeckUsed(
  tune: Tune,
  strays: readonly MelodyNote[],
  frets: number,
  isWideAnywhere: boolean,
): Finding {
  const first = strays[0];
  const why = isWideAnywhere
    ? "is too wide for its strings in any key"
    : "does not lie on its strings where the guitar plays it";
  return {
    rule: "melody-on-more-of-the-neck",
    severity: "warning",
    place: first === undefined ? {} : placeOf(tune, first),
    found: `${counted(strays.length, "note")} outside the strings and frets asked for`,
    expected: "a melody within reach of its strings",
    message: `The melody ${why}; ${counted(strays.length, "note")} of it use other strings, or frets up to ${frets}.`,
    hint: "Low ones have thin grips, since little is left below them.",
  };
}

function keyDoesNotFit(tune: Tune, board: Fretboard, tonic: PitchName, semitones: number): ScoreError {
  const stray = tune.melody.find((note) => melodyPlaces(board, note.midi + semitones).length === 0);
  const isMinor = keyOfTune(tune).mode === "minor";
  const tonics = fittingTranspositions(tune, board).map(
    (fitting) =>
      (isMinor ? MINOR_TONICS : MAJOR_TONICS)[mod12(pitchClass(tonicOfTune(tune)) + fitting.semitones)],
  );
  const works = [...new Set(tonics)];
  return new ScoreError({
    rule: "key-does-not-fit",
    place: stray === undefined ? {} : placeOf(tune, stray),
    found:
      stray === undefined ? "a melody" : `${pitchText(stray)}, moved by ${counted(semitones, "semitone")}`,
    expected: works.length === 0 ? "no key fits on these strings" : `one of ${works.join(", ")}`,
    message: `In the key of ${nameOf(tonic)} the melody note ${stray === undefined ? "" : `${pitchText(stray)} `}does not lie on strings ${board.melodyStrings.join(", ")} up to fret ${board.instrument.frets}.`,
    hint: works.length === 0 ? "Allow more strings or more frets." : `These keys fit: ${works.join(", ")}.`,
  });
}

function melodyFitsNowhere(tune: Tune, board: Fretboard): ScoreError {
  const [low, high] = [lowestOf(tune), highestOf(tune)];
  const found =
    low === undefined || high === undefined ? "no notes" : `${pitchText(low)} to ${pitchText(high)}`;
  return new ScoreError({
    rule: "melody-out-of-range",
    place: high === undefined ? {} : placeOf(tune, high),
    found,
    expected: `a melody that fits on ${stringCount(board.instrument)} strings with ${board.instrument.frets} frets`,
    message: `The melody runs from ${found}, wider than the instrument in any key.`,
    hint: "Allow more frets, or split the melody.",
  });
}

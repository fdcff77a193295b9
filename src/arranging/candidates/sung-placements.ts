import type { SoundingString } from "../../guitar/fingering.js";
import { type FretSpan, isInHand, NOT_STOPPED, widened } from "../../guitar/fret-span.js";
import { midiAt, stringCount } from "../../guitar/instrument.js";
import { isThumbString } from "../../guitar/thumb-strings.js";
import type { Pitch } from "../../song/pitch.js";
import type { SoundingNote } from "../../song/voices.js";
import { isPlaceAvoided } from "../../wishes/avoided.js";
import type { SungWeights } from "../costs/cost-table.js";
import { rightHandCost } from "../costs/right-hand-cost.js";
import { type Fretboard, melodyPlaces } from "./struck-grips.js";

/** A pitch that voices sing at a moment, and whether they begin it there. */
export interface SungPitch {
  readonly midi: number;
  readonly pitch: Pitch;
  /** The voice that is followed, by its index; of several in unison the lowest part. */
  readonly voice: number;
  /** Some voice begins it at this moment, so that striking it is what is written. */
  readonly begins: boolean;
  /** Some voice holds it over from before. */
  readonly isHeldOver: boolean;
  /** It is of a bass put under the tune, which keeps to the lowest strings; another voice may sing it too. */
  readonly isBassLine: boolean;
}

/** A sung pitch on a string, perhaps in another octave. */
export interface PlacedVoice extends SoundingString {
  readonly midi: number;
  readonly sung: SungPitch;
  /** Octaves up from where it is sung. */
  readonly octaves: number;
}

/** Voices of a moment on strings, low to high, under the melody where it sounds; `points` without any hand. */
export interface SungPlacement {
  readonly melody: SoundingString | undefined;
  readonly supports: readonly PlacedVoice[];
  readonly points: number;
  /** The same with what the right hand is asked for if all of it is struck. */
  readonly likely: number;
}

/** More voices than this are not on six strings: the bass stays, and of the others the highest. */
const MOST_PITCHES = 6;

/** What voices other than the tune sound at a tick, each pitch once, lowest first. */
export function sungPitches(sounding: readonly SoundingNote[], tick: number): readonly SungPitch[] {
  const pitches = new Map<number, SungPitch>();
  for (const { voice, note } of sounding) {
    if (note.isMelody) continue;
    const known = pitches.get(note.midi);
    const begins = note.onset === tick;
    pitches.set(note.midi, {
      midi: note.midi,
      pitch: note.pitch,
      voice: Math.max(voice, known?.voice ?? 0),
      begins: begins || known?.begins === true,
      isHeldOver: !begins || known?.isHeldOver === true,
      isBassLine: note.isBassLine === true || known?.isBassLine === true,
    });
  }
  const inOrder = [...pitches.values()].sort((one, other) => one.midi - other.midi);
  return inOrder.length <= MOST_PITCHES
    ? inOrder
    : [...inOrder.slice(0, 1), ...inOrder.slice(1 - MOST_PITCHES)];
}

/** The octaves a voice may be moved by: as sung first. */
const OCTAVES = [0, 1, -1];

/**
 * Every way to put sung pitches, or some of them, on the strings under a melody note, or on any strings where
 * the melody rests. Voices keep their order: none crosses another that it does not cross when sung. Cheapest
 * first by what is left out and moved.
 */
export function sungPlacements(
  board: Fretboard,
  melodyMidi: number | undefined,
  pitches: readonly SungPitch[],
  isShort: boolean,
  weights: SungWeights,
): readonly SungPlacement[] {
  const { instrument } = board;
  const isFree = (note: SoundingString) => !(board.avoided ?? []).some((one) => isPlaceAvoided(one, note));
  const found: SungPlacement[] = [];
  const melodies: readonly (SoundingString | undefined)[] =
    melodyMidi === undefined ? [undefined] : melodyPlaces(board, melodyMidi).filter(isFree);
  const lowest = instrument.hasOpenStrings ? 0 : 1;

  for (const melody of melodies) {
    const add = (chosen: readonly PlacedVoice[], next: number, string: number, span: FretSpan): void => {
      const supports = [...chosen].reverse();
      const points = sungPoints(supports, melodyMidi, pitches, isShort, weights);
      if (chosen.length > 0)
        found.push({ melody, supports, points, likely: points + struckTogether(supports, melody) });
      const ceiling = chosen.at(-1)?.midi ?? melodyMidi ?? Number.POSITIVE_INFINITY;
      for (let index = next; index >= 0; index -= 1) {
        const sung = pitches[index];
        if (sung === undefined) continue;
        for (const octaves of OCTAVES) {
          const midi = sung.midi + 12 * octaves;
          if (midi >= ceiling) continue;
          for (let on = string; on <= stringCount(instrument); on += 1) {
            if (sung.isBassLine && !isThumbString(instrument, on)) continue;
            const fret = midi - midiAt(instrument, on, 0);
            if (fret < lowest || fret > instrument.frets || !isFree({ string: on, fret })) continue;
            const wider = fret === 0 ? span : widened(span, fret);
            if (!isInHand(instrument, wider)) continue;
            add([...chosen, { string: on, fret, midi, sung, octaves }], index - 1, on + 1, wider);
          }
        }
      }
    };
    const span = melody === undefined || melody.fret === 0 ? NOT_STOPPED : widened(NOT_STOPPED, melody.fret);
    add([], pitches.length - 1, (melody?.string ?? 0) + 1, span);
  }
  return found.sort((one, other) => one.likely - other.likely);

  function struckTogether(supports: readonly PlacedVoice[], melody: SoundingString | undefined): number {
    return rightHandCost(melody === undefined ? supports : [...supports, melody], [], weights);
  }
}

/** What it costs that voices are left out and moved; with nothing chosen, all are left out. */
export function sungPoints(
  supports: readonly PlacedVoice[],
  melodyMidi: number | undefined,
  pitches: readonly SungPitch[],
  isShort: boolean,
  weights: SungWeights,
): number {
  const sounding = new Set(supports.map(({ midi }) => midi % 12));
  if (melodyMidi !== undefined) sounding.add(melodyMidi % 12);
  let points = 0;
  const [bass] = pitches;
  const lowest = supports[0]?.midi ?? melodyMidi;
  // A bass put under the tune is a line of its own: another note with its name does not stand for it.
  const isBassKept =
    bass?.isBassLine === true
      ? supports.some(({ sung }) => sung === bass)
      : lowest !== undefined && lowest % 12 === (bass?.midi ?? 0) % 12;
  if (bass !== undefined && !isBassKept) points += priceOf(bass, weights.bassNotLowest, isShort, weights);
  for (const sung of pitches) {
    if (supports.some((placed) => placed.sung === sung)) continue;
    if (!sounding.has(sung.midi % 12)) points += priceOf(sung, weights.toneLeftOut, isShort, weights);
    else points += sung === bass ? weights.bassDoubledOnly : weights.voiceLeftOut;
  }
  for (const { sung, octaves, fret } of supports) {
    points += Math.abs(octaves) * (sung === bass ? weights.bassOctave : weights.voiceOctave);
    if (fret === 0) points += weights.openString;
  }
  return points;
}

/** A voice that began earlier was heard then, and one that is gone at once is less missed. */
const priceOf = (
  { begins }: SungPitch,
  price: number,
  isShort: boolean,
  { heldOverPercent, shortPercent }: SungWeights,
): number => Math.round((price * (begins ? (isShort ? shortPercent : 100) : heldOverPercent)) / 100);

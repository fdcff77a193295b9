import type { Finger } from "../guitar/grip.js";
import type { GuitarNote, GuitarScore, ScoreMelodyNote } from "../guitar/guitar-score.js";
import { type Instrument, stringCount } from "../guitar/instrument.js";
import { leftRinging } from "./left-ringing.js";

/** A string that sounds, with the attack it comes from. */
export interface HeldString {
  readonly note: GuitarNote;
  readonly string: number;
  readonly fret: number;
  /** undefined where a stopped string has none. */
  readonly finger: Finger | undefined;
}

/** A time at which something is struck, with all that sounds then. */
export interface Moment {
  readonly onset: number;
  readonly measure: number;
  /** What begins here, from the lowest pitch up. */
  readonly struck: readonly GuitarNote[];
  /** What begins here or rings on, from the lowest pitch up. */
  readonly sounding: readonly GuitarNote[];
  /** Of that, what has a place on the neck: each string once, as struck last, from the highest number down. */
  readonly held: readonly HeldString[];
  /** The tune's note that sounds now. */
  readonly melody: ScoreMelodyNote | undefined;
}

/** The moments of a score in time order. Grace notes have no time of their own and make none. */
export function momentsOf(score: GuitarScore, instrument: Instrument): readonly Moment[] {
  const notes = score.notes.filter(({ kind }) => kind === "note");
  const moments: Moment[] = [];
  let sounding: GuitarNote[] = [];
  for (let next = 0; next < notes.length; ) {
    const first = notes[next];
    if (first === undefined) break;
    const { onset, measure } = first;
    const struck: GuitarNote[] = [];
    for (let note = notes[next]; note?.onset === onset; note = notes[next]) {
      struck.push(note);
      next += 1;
    }
    const ringing = sounding.filter((note) => note.onset + note.length > onset);
    const ended = sounding.filter((note) => note.isLeftRinging && !ringing.includes(note));
    sounding = [...ringing, ...leftRinging(ended, ringing, struck, instrument), ...struck];
    moments.push({
      onset,
      measure,
      struck,
      sounding: sounding.toSorted((a, b) => a.midi - b.midi),
      held: heldStrings(sounding, instrument),
      melody: melodyAt(score, onset),
    });
  }
  return moments;
}

/** The tune's note that sounds at a time. */
export const melodyAt = ({ melody }: GuitarScore, tick: number): ScoreMelodyNote | undefined => {
  const last = melody.notes.findLast(({ onset }) => onset <= tick);
  return last !== undefined && last.onset + last.length > tick ? last : undefined;
};

function heldStrings(sounding: readonly GuitarNote[], instrument: Instrument): readonly HeldString[] {
  const byString = new Map<number, HeldString>();
  for (const note of sounding) {
    const { string, fret } = note;
    if (string === undefined || fret === undefined || !isOnNeck(instrument, string, fret)) continue;
    const finger = fret > 0 && note.finger === 0 ? undefined : note.finger;
    byString.set(string, { note, string, fret, finger: fret === 0 ? 0 : finger });
  }
  return [...byString.values()].sort((a, b) => b.string - a.string);
}

export const isOnNeck = (instrument: Instrument, string: number, fret: number): boolean =>
  string >= 1 && string <= stringCount(instrument) && fret >= 0 && fret <= instrument.frets;

export const isStopped = ({ fret }: HeldString): boolean => fret > 0;

/** Whether a held string is struck at this moment, rather than ringing on from one before. */
export const isStruckAt = ({ onset }: Moment, { note }: HeldString): boolean => note.onset === onset;

import type { Pitch } from "./pitch.js";

/** A note that one voice of an ensemble sings or plays; ties joined, times in ticks, sounding. */
export interface VoiceNote {
  readonly onset: number;
  readonly length: number;
  readonly pitch: Pitch;
  readonly midi: number;
  /** It is (part of) the tune, and no voice under it. */
  readonly isMelody: boolean;
  /** It is of a bass that was put under the tune, and is written as a voice of its own. */
  readonly isBassLine?: true;
}

/** One line of an ensemble: a voice of a part, or one row of the chords that a voice is written in. */
export interface Voice {
  /** Position among the voices of the score. */
  readonly index: number;
  /** For people: "Tenor", "Organ, voice 2". */
  readonly name: string;
  /** In time order, never overlapping. */
  readonly notes: readonly VoiceNote[];
}

/** A note that sounds at a moment, and who sings it. */
export interface SoundingNote {
  readonly voice: number;
  readonly note: VoiceNote;
}

export const endOfVoiceNote = ({ onset, length }: VoiceNote): number => onset + length;

/** What sounds at a tick, lowest first. */
export const soundingAt = (voices: readonly Voice[], tick: number): readonly SoundingNote[] =>
  voices
    .flatMap(({ index, notes }): readonly SoundingNote[] => {
      const note = noteAt(notes, tick);
      return note === undefined ? [] : [{ voice: index, note }];
    })
    .sort((one, other) => one.note.midi - other.note.midi || other.voice - one.voice);

/** The note of a voice that sounds at a tick, found by halving. */
export function noteAt(notes: readonly VoiceNote[], tick: number): VoiceNote | undefined {
  let low = 0;
  let high = notes.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const note = notes[middle];
    if (note === undefined) return undefined;
    if (note.onset > tick) high = middle - 1;
    else if (endOfVoiceNote(note) <= tick) low = middle + 1;
    else return note;
  }
  return undefined;
}

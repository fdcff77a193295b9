import type { TuneEvent } from "./tune-events.js";

/** A melody note that may ring on under the next, as a tone of the chord in force. */
export interface RingingMelody {
  readonly midi: number;
  readonly degree: string;
}

/** From a third on: a second would blur the line that both notes are of. Common practice. */
const CLEAR_OF_LINE = 3;

/** But a minor seventh stays under its root: without it the chord would be a triad. Common practice. */
const UNDER_ROOT = 2;

/**
 * The melody note of the event before, where the tune goes up from it and it may ring on under the next: a tone of the
 * chord in force, well under the next note, and not marked to be short. Nothing else of a melody smears into a chord.
 */
export function ringingMelody(before: TuneEvent | undefined, event: TuneEvent): RingingMelody | undefined {
  const { note, chord } = event;
  if (before?.note === undefined || note === undefined || chord === undefined) return undefined;
  if (!event.isNoteOnset || !event.mayBeHeldInto || before.note.isDetached) return undefined;
  if (before.end < event.onset) return undefined;
  const { midi } = before.note;
  const up = note.midi - midi;
  const tone = chord.tones.find(({ pitchClass }) => pitchClass === midi % 12);
  if (tone === undefined) return undefined;
  const isClear = up >= (tone.label === "b7" ? UNDER_ROOT : CLEAR_OF_LINE);
  return isClear ? { midi, degree: tone.label } : undefined;
}

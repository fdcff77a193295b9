import { mod12 } from "../../song/pitch.js";
import type { MetricWeight } from "../../song/tune.js";
import { endOfVoiceNote, type Voice, type VoiceNote } from "../../song/voices.js";
import type { Treatment } from "./weights.js";

/** Where in the bar a tick is. */
export interface MetricGrid {
  readonly weightAt: (tick: number) => MetricWeight;
  readonly beatTicksAt: (tick: number) => number;
}

/** From one change in what sounds to the next. Times in ticks. */
export interface Moment {
  readonly start: number;
  readonly end: number;
  readonly beats: number;
  readonly weight: MetricWeight;
  /** Lowest first; empty in a rest of all voices. */
  readonly notes: readonly HeardNote[];
}

/** A note at a moment: one that began earlier sounds on. */
export interface HeardNote {
  readonly note: VoiceNote;
  readonly pitchClass: number;
  readonly beginsHere: boolean;
  /** What it would be if the chord does not have it, from this moment on. */
  readonly treatment: Treatment;
}

/** Everything that sounds, cut wherever a note begins or ends. */
export function momentsOf(voices: readonly Voice[], grid: MetricGrid): readonly Moment[] {
  const edges = new Set<number>();
  for (const { notes } of voices)
    for (const note of notes) {
      edges.add(note.onset);
      edges.add(endOfVoiceNote(note));
    }
  const times = [...edges].sort((a, b) => a - b);
  const at = voices.map(() => 0);
  return times.slice(0, -1).map((start, index): Moment => {
    const end = times[index + 1] ?? start;
    const notes = voices.flatMap((voice, row): readonly HeardNote[] => {
      let position = at[row] ?? 0;
      while (position < voice.notes.length && endOf(voice.notes[position]) <= start) position += 1;
      at[row] = position;
      const note = voice.notes[position];
      if (note === undefined || note.onset > start) return [];
      const before = voice.notes[position - 1];
      const after = voice.notes[position + 1];
      return [
        {
          note,
          pitchClass: mod12(note.midi),
          beginsHere: note.onset === start,
          treatment: treatmentOf(note, before, after, start),
        },
      ];
    });
    return {
      start,
      end,
      beats: (end - start) / grid.beatTicksAt(start),
      weight: grid.weightAt(start),
      notes: notes.sort((one, other) => one.note.midi - other.note.midi),
    };
  });
}

const endOf = (note: VoiceNote | undefined): number =>
  note === undefined ? Number.POSITIVE_INFINITY : endOfVoiceNote(note);

/** A step is a second, or an augmented one, up to three semitones. */
const STEP_SEMITONES = 2;

const isStep = (semitones: number): boolean => semitones !== 0 && Math.abs(semitones) <= STEP_SEMITONES;

/** How a voice comes to a note and leaves it, heard from a moment on at which it may have begun already. */
function treatmentOf(
  note: VoiceNote,
  before: VoiceNote | undefined,
  after: VoiceNote | undefined,
  moment: number,
): Treatment {
  const came = before === undefined ? undefined : note.midi - before.midi;
  const left = after === undefined ? undefined : after.midi - note.midi;
  const isPrepared = note.onset < moment || came === 0;
  if (isPrepared) {
    if (left === undefined || left === 0) return "pedal";
    if (!isStep(left)) return "unprepared";
    return left < 0 ? "suspension" : "retardation";
  }
  const cameByStep = came !== undefined && isStep(came);
  const leftByStep = left !== undefined && isStep(left);
  if (cameByStep && leftByStep) return Math.sign(came) === Math.sign(left) ? "passing" : "neighbour";
  if (cameByStep && left === 0) return "anticipation";
  if (leftByStep) return "appoggiatura";
  return cameByStep ? "escape" : "unprepared";
}

import { fingeringsOf, type SoundingString } from "../guitar/fingering.js";
import type { Finger } from "../guitar/grip.js";
import type { Instrument } from "../guitar/instrument.js";
import { placesOfPitch } from "../guitar/places-of-pitch.js";
import type { ReconciledNote } from "./reconciled-notes.js";

/** A note with its string and fret; the finger is free where none is given. */
export interface FingeredNote extends SoundingString {
  readonly onset: number;
  readonly end: number;
  readonly midi: number;
  readonly finger: Finger | undefined;
  readonly isMelody: boolean;
}

/**
 * Places and fingers for the notes struck at one moment over those that ring on. Places that are said
 * stay; where only a pitch is said, its old string is tried first, then those nearest. Of the fingers
 * said, those written for another place give way first, then those that were not changed, then all. undefined where no hand can hold it.
 */
export function fingeredNotes(
  struck: readonly ReconciledNote[],
  ringing: readonly FingeredNote[],
  instrument: Instrument,
): readonly FingeredNote[] | undefined {
  for (const keepsFinger of LESS_AND_LESS) {
    for (const places of placesFor(struck, ringing, instrument)) {
      const notes = struck.map((note, index): FingeredNote => {
        const place = places[index] ?? { string: 1, fret: 0 };
        const { onset, end, midi, isMelody } = note;
        const finger = place.fret === 0 ? 0 : keepsFinger(note) ? note.finger : undefined;
        return {
          ...place,
          onset,
          end,
          midi,
          isMelody,
          finger: finger === 0 && place.fret > 0 ? undefined : finger,
        };
      });
      if (canHold([...ringing, ...notes], instrument)) return notes;
    }
  }
  return undefined;
}

const LESS_AND_LESS: readonly ((note: ReconciledNote) => boolean)[] = [
  () => true,
  (note) => !note.isFingerStale,
  (note) => note.isFingerChanged,
  () => false,
];

/** Every choice of strings for the notes that have a pitch only. */
function* placesFor(
  struck: readonly ReconciledNote[],
  ringing: readonly FingeredNote[],
  instrument: Instrument,
  chosen: readonly SoundingString[] = [],
): Generator<readonly SoundingString[]> {
  const note = struck[chosen.length];
  if (note === undefined) {
    yield chosen;
    return;
  }
  const taken = [...chosen, ...ringing, ...struck.flatMap(({ place }) => place ?? [])].map(
    ({ string }) => string,
  );
  for (const place of note.place === undefined ? placesOf(note, instrument, taken) : [note.place])
    yield* placesFor(struck, ringing, instrument, [...chosen, place]);
}

function placesOf(
  { midi, nearString }: ReconciledNote,
  instrument: Instrument,
  taken: readonly number[],
): readonly SoundingString[] {
  const near = nearString ?? 1;
  return placesOfPitch(instrument, midi)
    .filter(({ string }) => !taken.includes(string))
    .toSorted((a, b) => Math.abs(a.string - near) - Math.abs(b.string - near) || a.fret - b.fret);
}

function canHold(notes: readonly FingeredNote[], instrument: Instrument): boolean {
  if (new Set(notes.map(({ string }) => string)).size < notes.length) return false;
  return fingeringsOf(instrument, notes).some((fingers) =>
    fingers.every((finger, index) => notes[index]?.finger === undefined || notes[index]?.finger === finger),
  );
}

import type { Arranged } from "../../src/arrange-score.js";
import { struckSupports } from "../../src/arrangement/played-notes.js";
import type { GuitarScore } from "../../src/guitar/guitar-score.js";

/** What an arrangement holds, grace notes too: each attack as "onset length pitch string/fret-finger", times in quarter notes. */
export function attacksWritten({ sheet, arrangement }: Arranged): readonly string[] {
  const { tune, source } = sheet;
  const { semitones } = arrangement.transposition;
  const row = (
    onset: number,
    length: number,
    midi: number,
    at: { string: number; fret: number; finger: number },
  ) =>
    `${onset / tune.ticksPerQuarter} ${length / tune.ticksPerQuarter} ${midi} ${at.string}/${at.fret}-${at.finger}`;
  return [
    ...tune.melody.flatMap((note, index) => {
      const place = arrangement.melody[index];
      return place === undefined ? [] : [row(note.onset, note.length, note.midi + semitones, place)];
    }),
    ...struckSupports(arrangement).map((note) => row(note.onset, note.end - note.onset, note.midi, note)),
    ...source.written.flatMap(({ id, onset }) => {
      const place = arrangement.graces.get(id);
      if (place === undefined) return [];
      const { openStrings, capo } = arrangement.instrument;
      return [row(onset, 0, (openStrings[place.string - 1] ?? 0) + capo + place.fret, place)];
    }),
  ].sort();
}

/** The same of a score that was read back. */
export const attacksRead = ({ notes, ticksPerQuarter }: GuitarScore): readonly string[] =>
  notes
    .map(
      ({ onset, length, midi, string, fret, finger }) =>
        `${onset / ticksPerQuarter} ${length / ticksPerQuarter} ${midi} ${string}/${fret}-${finger}`,
    )
    .sort();

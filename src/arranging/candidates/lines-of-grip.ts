import type { SoundingString } from "../../guitar/fingering.js";
import { type Instrument, midiAt } from "../../guitar/instrument.js";
import { isThumbString } from "../../guitar/thumb-strings.js";
import { mod12 } from "../../song/pitch.js";
import type { SungLine, SungLines } from "../grips/candidate.js";
import type { SungPitch } from "./sung-placements.js";

/**
 * Which voice each supporting note of a grip is of that came from elsewhere, so that nothing but its strings and pitches
 * says: each voice is taken once, and where voices could be told apart in several ways it is as the search would have
 * meant it. A note is of the voice that sings its very pitch, else of one that sings it in another octave. A bass put
 * under the tune is looked for on the thumb's strings first: there the lowest note is the bass even where it was moved up
 * to another voice's pitch, and on other strings another voice may have been moved down to that of the bass. undefined
 * where all are nobody's.
 */
export function linesOfGrip(
  instrument: Instrument,
  supports: readonly SoundingString[],
  sung: readonly SungPitch[],
): SungLines | undefined {
  const notes = supports.map(({ string, fret }, index) => ({
    index,
    midi: midiAt(instrument, string, fret),
    isOfThumb: isThumbString(instrument, string),
  }));
  const lowestFirst = notes.toSorted((one, other) => one.midi - other.midi);
  const owners = new Map<number, SungPitch>();
  const free = new Set(sung);
  const give = (isOwn: (note: NoteOfGrip, one: SungPitch) => boolean): void => {
    for (const note of lowestFirst) {
      const own = owners.has(note.index) ? undefined : [...free].find((one) => isOwn(note, one));
      if (own === undefined) continue;
      owners.set(note.index, own);
      free.delete(own);
    }
  };
  give((note, one) => one.isBassLine && note.isOfThumb && note.midi === one.midi);
  give((note, one) => one.isBassLine && note.isOfThumb && note === lowestFirst[0] && isSameName(note, one));
  give((note, one) => !one.isBassLine && note.midi === one.midi);
  give((note, one) => !one.isBassLine && isSameName(note, one));
  give((note, one) => note.midi === one.midi);
  return owners.size === 0 ? undefined : notes.map((note) => lineOf(note, owners.get(note.index)));
}

interface NoteOfGrip {
  readonly midi: number;
  readonly isOfThumb: boolean;
}

const isSameName = ({ midi }: NoteOfGrip, one: SungPitch): boolean => mod12(midi - one.midi) === 0;

function lineOf({ midi }: NoteOfGrip, own: SungPitch | undefined): SungLine | undefined {
  if (own === undefined) return undefined;
  const { voice, pitch, isBassLine } = own;
  return { voice, octaves: (midi - own.midi) / 12, pitch, isBassLine };
}

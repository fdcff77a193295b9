import type { SoundingString } from "./fingering.js";
import { type Instrument, midiAt } from "./instrument.js";

/** Every string and fret at which a pitch (MIDI) sounds, open strings included, the highest string first. */
export const placesOfPitch = (instrument: Instrument, midi: number): readonly SoundingString[] =>
  instrument.openStrings
    .map((_, index) => ({ string: index + 1, fret: midi - midiAt(instrument, index + 1, 0) }))
    .filter(({ fret }) => fret >= 0 && fret <= instrument.frets);

import type { Transposition } from "../arrangement/arrangement.js";
import type { ChordSymbol } from "../song/chord-symbol.js";
import { transposeName, transposePitch } from "../song/pitch.js";
import type { Tune } from "../song/tune.js";

export const NOT_MOVED: Transposition = { semitones: 0, interval: "1P" };

/** The same tune moved by an interval: melody, chord symbols and keys; times stay. */
export function transposedTune(tune: Tune, transposition: Transposition): Tune {
  const { semitones, interval } = transposition;
  if (semitones === 0 && interval === "1P") return tune;
  return {
    ...tune,
    melody: tune.melody.map((note) => ({
      ...note,
      midi: note.midi + semitones,
      pitch: transposePitch(note.pitch, interval, semitones),
    })),
    chords: tune.chords.map((span) => ({
      ...span,
      symbol: span.symbol === undefined ? undefined : transposedSymbol(span.symbol, interval),
    })),
    ...(tune.voices === undefined
      ? {}
      : {
          voices: tune.voices.map((voice) => ({
            ...voice,
            notes: voice.notes.map((note) => ({
              ...note,
              midi: note.midi + semitones,
              pitch: transposePitch(note.pitch, interval, semitones),
            })),
          })),
        }),
  };
}

/** A chord symbol moved by an interval, spelling and all. */
export const transposedSymbol = (symbol: ChordSymbol, interval: string): ChordSymbol => ({
  ...symbol,
  root: transposeName(symbol.root, interval),
  bass: symbol.bass === undefined ? undefined : transposeName(symbol.bass, interval),
});

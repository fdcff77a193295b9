import type { ChordSymbol } from "./chord-symbol.js";
import { transposeName, transposePitch } from "./pitch.js";
import type { Tune } from "./tune.js";

/** How the whole tune is moved before it is arranged. */
export interface Transposition {
  /** Semitones, octaves included; 0 where the tune stays. */
  readonly semitones: number;
  /** The same as the name of an interval ("1P", "-3m", "8P"), which decides the spelling. */
  readonly interval: string;
}

/** A tune as it is. */
export const UNTRANSPOSED: Transposition = { semitones: 0, interval: "1P" };

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

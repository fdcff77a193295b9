import { nameOf } from "../../src/song/pitch.js";
import type { Tune } from "../../src/song/tune.js";
import { chordTable } from "./reading.js";

/** "1:1 C5 4" for each note: bar, beat, sounding pitch, quarters. */
export const melodyText = ({ measures, melody, ticksPerQuarter }: Tune): readonly string[] =>
  melody.map(
    ({ measure, onset, pitch, length }) =>
      `${measure + 1}:${tidy(1 + (onset - (measures[measure]?.start ?? 0)) / ticksPerQuarter)} ${nameOf(pitch)}${pitch.octave} ${tidy(length / ticksPerQuarter)}`,
  );

/** "1:3 A minor-seventh" for each chord, degrees and bass after it. */
export const chordText = (tune: Tune): readonly string[] => {
  const places = chordTable(tune);
  return tune.chords.map(({ symbol }, index) => {
    const [measure, beat] = places[index] ?? [];
    const place = `${measure}:${tidy(Number(beat))}`;
    if (symbol === undefined) return `${place} N.C.`;
    const degrees = symbol.degrees.map(
      ({ type, value, alter }) => ` ${type} ${alter < 0 ? "b".repeat(-alter) : "#".repeat(alter)}${value}`,
    );
    return `${place} ${nameOf(symbol.root)} ${symbol.kind}${degrees.join("")}${symbol.bass === undefined ? "" : `/${nameOf(symbol.bass)}`}`;
  });
};

const tidy = (value: number): string => String(Math.round(value * 1000) / 1000);

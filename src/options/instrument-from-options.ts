import type { Instrument } from "../guitar/instrument.js";
import { midiOf, type PitchName, parsePitchName } from "../song/pitch.js";
import type { ArrangeOptions } from "./options.js";

/**
 * One of two doors, `key-wish.ts` being the other, where the text values of checked options become types of the
 * model. What comes in has passed `completeOptions`, so a value that cannot be read is a mistake of ours.
 */

/** Where the neck of a classical guitar usually meets its body; steel strings have two frets more. */
const BODY_FRET = 12;

/** The instrument the options describe. */
export function instrumentFrom(
  options: Pick<ArrangeOptions, "tuning" | "frets" | "scaleLength" | "capo"> &
    Partial<Pick<ArrangeOptions, "hand" | "reach" | "barres">>,
): Instrument {
  return {
    openStrings: options.tuning
      .trim()
      .split(/[\s,]+/)
      .map(openString)
      .reverse(),
    frets: options.frets,
    scaleLengthMm: options.scaleLength,
    capo: options.capo,
    fretSpacing: "real",
    hasOpenStrings: true,
    bodyFret: BODY_FRET,
    handSize: options.hand ?? 1,
    reach: options.reach ?? 1,
    barres: options.barres ?? "all",
  };
}

function openString(text: string): number {
  const [, name, octave] = /^(.*?)(-?\d)$/.exec(text) ?? [];
  return midiOf({ ...pitchNameFrom(name ?? ""), octave: Number(octave) });
}

/** Strings the melody may use, 1 the highest, ascending: "1-3" is 1, 2, 3. */
export function melodyStringsFrom(options: Pick<ArrangeOptions, "strings">): readonly number[] {
  const strings = options.strings.split(",").flatMap((piece) => {
    const ends = piece.split("-").map(Number);
    const [first, last] = [Math.min(...ends), Math.max(...ends)];
    return Array.from({ length: last - first + 1 }, (_, offset) => first + offset);
  });
  return [...new Set(strings)].sort((one, other) => one - other);
}

/** A note name as options have it, capital or not. */
export function pitchNameFrom(text: string): PitchName {
  const name = parsePitchName(text.charAt(0).toUpperCase() + text.slice(1));
  if (name === undefined) throw new Error(`not a note name: ${text}`);
  return name;
}

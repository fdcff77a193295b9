import type { TuneWishes } from "./arranging/arrange-settings.js";
import type { Instrument } from "./guitar/instrument.js";
import type { ArrangeOptions } from "./options/options.js";
import { midiOf, type PitchName, parsePitchName } from "./song/pitch.js";

/**
 * The one door where the text values of checked options become types of the model. What comes in has
 * passed `completeOptions`, so a value that cannot be read is a mistake of ours.
 */

/** Where the neck of a classical guitar usually meets its body; steel strings have two frets more. */
const BODY_FRET = 12;

/** The instrument the options describe. */
export function instrumentFrom(
  options: Pick<ArrangeOptions, "tuning" | "frets" | "scaleLength" | "capo"> &
    Partial<Pick<ArrangeOptions, "hand">>,
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

/** What the options ask of an arrangement, but for its key; the player's own wishes are not among them. */
export const tuneWishesFrom = (options: ArrangeOptions): TuneWishes => ({
  texture: options.texture,
  rests: options.rests,
  alternatives: options.alternatives,
  wishes: [],
  notes: options.notes === "auto" ? "auto" : options.notes === "3" ? 3 : 4,
  shift: options.shift,
  tempo: options.tempo,
  instrument: instrumentFrom(options),
  melodyStrings: melodyStringsFrom(options),
});

/** What was asked about the key. */
export type KeyWish =
  | { readonly kind: "keep" }
  | { readonly kind: "best" }
  | { readonly kind: "tonic"; readonly tonic: PitchName; readonly mode: "minor" | undefined };

/** "Eb" is the tonic E flat in the mode of the tune, "F#m" F sharp minor. */
export function keyWishFrom(options: Pick<ArrangeOptions, "key">): KeyWish {
  const { key } = options;
  if (key === "keep" || key === "best") return { kind: key };
  const isMinor = key.endsWith("m");
  return {
    kind: "tonic",
    tonic: pitchNameFrom(isMinor ? key.slice(0, -1) : key),
    mode: isMinor ? "minor" : undefined,
  };
}

function pitchNameFrom(text: string): PitchName {
  const name = parsePitchName(text.charAt(0).toUpperCase() + text.slice(1));
  if (name === undefined) throw new Error(`not a note name: ${text}`);
  return name;
}

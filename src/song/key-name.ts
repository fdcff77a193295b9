import { isSameName, type Letter, nameOf, type PitchName, pitchClass, transposeName } from "./pitch.js";
import type { KeyMark } from "./tune.js";

/** Letters in the order in which a key signature gains sharps. */
const LETTERS_BY_FIFTHS: readonly Letter[] = ["F", "C", "G", "D", "A", "E", "B"];

/** How far up the line of fifths the minor tonic stands from the major one of the same signature. */
const MINOR_TONIC_FIFTHS = 3;

/** Tonic of a key signature: 0 fifths is C in major, A in minor. */
export function tonicOf(fifths: number, mode: "major" | "minor"): PitchName {
  const fromF = fifths + 1 + (mode === "minor" ? MINOR_TONIC_FIFTHS : 0);
  const alter = Math.floor(fromF / LETTERS_BY_FIFTHS.length);
  const letter = LETTERS_BY_FIFTHS[fromF - alter * LETTERS_BY_FIFTHS.length] ?? "C";
  return { letter, alter };
}

/** Signatures there are, those with the fewest sharps or flats first. */
const SIGNATURES: readonly number[] = [0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6, 7, -7];

/** A tonic as a signature can be written for it: no signature has the eight sharps of G sharp major, A flat major has four flats. */
export function writableTonic(tonic: PitchName, mode: "major" | "minor"): PitchName {
  const alike = SIGNATURES.map((fifths) => tonicOf(fifths, mode)).filter(
    (name) => pitchClass(name) === pitchClass(tonic),
  );
  return alike.find((name) => isSameName(name, tonic)) ?? alike[0] ?? tonic;
}

/**
 * A key in words, moved by a named interval: "Eb major", "C# minor". A signature without a mode may
 * be either: "C major or A minor".
 */
export function keyName(key: KeyMark, interval = "1P"): string {
  const named = (mode: "major" | "minor") =>
    `${nameOf(transposeName(tonicOf(key.fifths, mode), interval))} ${mode}`;
  return key.mode === undefined ? `${named("major")} or ${named("minor")}` : named(key.mode);
}

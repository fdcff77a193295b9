import type { ChordSymbol } from "../song/chord-symbol.js";
import { mod12, type PitchName, pitchClass } from "../song/pitch.js";
import { type Degree, labelOfDegree, naturalSemitones, parseDegree, spellDegree } from "./chord-degree.js";
import { CHORD_KINDS } from "./chord-kinds.js";

/**
 * What a tone is to its chord. guide: says what the chord is. colour: an alteration or the highest
 * extension the symbol names. extension: a lower unaltered extension, implied by a higher one.
 */
export type Role = "guide" | "colour" | "extension" | "fifth" | "root";

export interface ChordTone extends Degree {
  /** "b9", "#11", "bb7", "5". */
  readonly label: string;
  readonly role: Role;
  /** 0..11, C = 0. */
  readonly pitchClass: number;
  readonly name: PitchName;
}

export interface Chord {
  readonly symbol: ChordSymbol;
  /** From the root up, each pitch class once. */
  readonly tones: readonly ChordTone[];
  /** The slash bass, or undefined where the bass is free. `degree` is undefined for a foreign bass. */
  readonly bass:
    | { readonly pitchClass: number; readonly name: PitchName; readonly degree: string | undefined }
    | undefined;
  /** More than a triad: harmonised with four notes. */
  readonly isSeventhOrLarger: boolean;
}

/** Works out the tones, roles and spelling of a chord symbol. A kind outside the standard is read as "other". */
export function chordOf(symbol: ChordSymbol): Chord {
  const degrees = degreesOf(symbol);
  const root = symbol.root;
  const tones = degrees.map((degree): ChordTone => {
    const name = spellDegree(root, degree);
    return {
      ...degree,
      label: labelOfDegree(degree),
      role: roleOf(degree, degrees),
      pitchClass: mod12(pitchClass(root) + degree.semitones),
      name,
    };
  });
  const bassClass = symbol.bass === undefined ? undefined : pitchClass(symbol.bass);
  const bass =
    symbol.bass === undefined || bassClass === undefined
      ? undefined
      : {
          pitchClass: bassClass,
          name: symbol.bass,
          degree: tones.find((tone) => tone.pitchClass === bassClass)?.label,
        };
  return { symbol, tones, bass, isSeventhOrLarger: tones.length > 3 };
}

/**
 * The degrees a symbol asks for, W3C `<degree>`: "add" counts its alteration from a dominant chord (so
 * add 7 is a minor seventh), "alter" and "subtract" from the degree in the chord. An "alter" of a degree
 * that is not there adds it; an unaltered "add" of one that is there changes nothing.
 */
export function degreesOf(symbol: ChordSymbol): readonly Degree[] {
  const kind = CHORD_KINDS[symbol.kind] ?? CHORD_KINDS.other ?? [];
  let degrees: Degree[] = kind.map(parseDegree);
  for (const change of symbol.degrees) {
    const there = degrees.find((degree) => degree.number === change.value);
    if (change.type === "subtract") {
      degrees = degrees.filter((degree) => degree.number !== change.value);
    } else if (change.type === "alter" && there !== undefined) {
      const altered = { number: change.value, semitones: there.semitones + change.alter };
      degrees = degrees.map((degree) => (degree === there ? altered : degree));
    } else if (there === undefined || change.alter !== 0) {
      degrees.push({ number: change.value, semitones: dominantSemitones(change.value) + change.alter });
    }
  }
  const seen = new Set<number>();
  return degrees
    .filter((degree) => {
      const isNew = !seen.has(mod12(degree.semitones));
      seen.add(mod12(degree.semitones));
      return isNew;
    })
    .sort((a, b) => a.number - b.number || a.semitones - b.semitones);
}

/** A degree of a dominant chord: major and perfect intervals, minor seventh. */
const dominantSemitones = (number: number): number => (number === 7 ? 10 : naturalSemitones(number));

function roleOf(degree: Degree, all: readonly Degree[]): Role {
  const has = (number: number) => all.some((other) => other.number === number);
  const isAltered = degree.semitones !== naturalSemitones(degree.number);
  switch (degree.number) {
    case 1:
      return "root";
    case 3:
    case 7:
      return "guide";
    case 2:
    case 4:
      // In place of the third it says "suspended"; beside a third it is an added tone.
      return has(3) ? "colour" : "guide";
    case 6:
      return has(7) ? "colour" : "guide";
    case 5:
      if (!isAltered) return "fifth";
      // The diminished fifth of a full diminished seventh is as much the chord as its third.
      return all.some((other) => other.number === 7 && other.semitones === 9) ? "guide" : "colour";
    default: {
      const highest = Math.max(...all.map((other) => other.number));
      return isAltered || degree.number === highest ? "colour" : "extension";
    }
  }
}

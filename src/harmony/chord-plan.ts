import type { ChordSymbol, DegreeChange } from "../song/chord-symbol.js";
import { degreesOf } from "./chord-tones.js";

/** What the words of a chord symbol say, before it is put as a kind of MusicXML with degrees. */
export interface ChordPlan {
  readonly triad: "major" | "minor" | "augmented" | "diminished" | "half-diminished";
  /** "maj" was said without a number, so a number to come is a major seventh chord. */
  readonly saysMajor: boolean;
  readonly seventh: "minor" | "major" | undefined;
  /** The highest number: 7, 9, 11 or 13 with all thirds below it. */
  readonly extension: 7 | 9 | 11 | 13 | undefined;
  readonly sixth: boolean;
  readonly suspension: "second" | "fourth" | undefined;
  readonly isPower: boolean;
  readonly isAltered: boolean;
  /** "b5", "#11": replaces the degree where it is there, else adds it. */
  readonly alterations: readonly NamedDegree[];
  /** "add9", "(13)". */
  readonly added: readonly NamedDegree[];
  /** "no3". */
  readonly omitted: readonly number[];
}

interface NamedDegree {
  readonly value: number;
  /** Against the major scale. */
  readonly alter: number;
}

export const NO_PLAN: ChordPlan = {
  triad: "major",
  saysMajor: false,
  seventh: undefined,
  extension: undefined,
  sixth: false,
  suspension: undefined,
  isPower: false,
  isAltered: false,
  alterations: [],
  added: [],
  omitted: [],
};

/** The kind for each triad and seventh; `numbered` by extension, `added` for what the kind lacks. */
const NUMBERED: Readonly<Record<string, Readonly<Record<7 | 9 | 11 | 13, string>>>> = {
  "major minor": { 7: "dominant", 9: "dominant-ninth", 11: "dominant-11th", 13: "dominant-13th" },
  "major major": { 7: "major-seventh", 9: "major-ninth", 11: "major-11th", 13: "major-13th" },
  "minor minor": { 7: "minor-seventh", 9: "minor-ninth", 11: "minor-11th", 13: "minor-13th" },
};

/** An altered dominant: raised fifth, both altered ninths. Common practice. */
const ALTERED: readonly NamedDegree[] = [
  { value: 5, alter: 1 },
  { value: 9, alter: -1 },
  { value: 9, alter: 1 },
];

/** Puts a plan as MusicXML states chords; undefined where its words contradict each other. */
export function planSymbol(plan: ChordPlan): Pick<ChordSymbol, "kind" | "degrees"> | undefined {
  if (plan.isAltered && (plan.triad !== "major" || plan.sixth || plan.seventh === "major")) return undefined;
  const extension = plan.isAltered ? (plan.extension ?? 7) : plan.extension;
  const start = kindOf({ ...plan, extension });
  if (start === undefined) return undefined;
  const degrees: DegreeChange[] = [...start.degrees];
  const alterations = plan.isAltered ? [...ALTERED, ...plan.alterations] : plan.alterations;
  for (const { value, alter } of alterations) {
    const there = degreesThere(start.kind, degrees).find((degree) => degree.number === value);
    const natural = NATURAL_ALTER_OF.get(value) ?? 0;
    if (there === undefined) degrees.push({ type: "add", value, alter: alter - natural });
    else if (degrees.some((change) => change.value === value)) {
      // The degree was altered already ("7b9#9"): the second alteration is one tone more.
      if (there.semitones !== semitonesOf(value) + alter) degrees.push({ type: "add", value, alter });
    } else if (there.semitones !== semitonesOf(value) + alter)
      degrees.push({ type: "alter", value, alter: semitonesOf(value) + alter - there.semitones });
  }
  for (const { value, alter } of plan.added) {
    const isThere = degreesThere(start.kind, degrees).some(
      (degree) => degree.number === value && degree.semitones === semitonesOf(value) + alter,
    );
    // "add7" is a minor seventh: an add counts from a dominant chord.
    if (!isThere) degrees.push({ type: "add", value, alter });
  }
  for (const value of plan.omitted) degrees.push({ type: "subtract", value, alter: 0 });
  return simplified(start.kind, degrees);
}

const NATURAL_ALTER_OF: ReadonlyMap<number, number> = new Map([[7, -1]]);

const MAJOR_SCALE: Readonly<Record<number, number>> = {
  1: 0,
  2: 2,
  3: 4,
  4: 5,
  5: 7,
  6: 9,
  7: 11,
  9: 14,
  11: 17,
  13: 21,
};
const semitonesOf = (value: number): number => MAJOR_SCALE[value] ?? 0;

const degreesThere = (kind: string, degrees: readonly DegreeChange[]) =>
  degreesOf({ root: { letter: "C", alter: 0 }, kind, degrees, bass: undefined });

function kindOf(
  plan: ChordPlan,
): { readonly kind: string; readonly degrees: readonly DegreeChange[] } | undefined {
  const { triad, extension, sixth, suspension } = plan;
  const major = plan.seventh === "major" ? 1 : 0;
  const add = (value: number, alter = 0): DegreeChange => ({ type: "add", value, alter });
  /** The thirds above the seventh that an extension implies; a suspended 13th keeps its fourth, so no 11th. */
  const above = (...skipped: readonly number[]) =>
    [9, 11, 13]
      .filter((value) => extension !== undefined && value <= extension && !skipped.includes(value))
      .map((value) => add(value));
  const sixthAdded = sixth ? [add(6)] : [];

  if (plan.isPower)
    return triad === "major" && suspension === undefined ? { kind: "power", degrees: [] } : undefined;
  if (suspension !== undefined) {
    const kind = suspension === "second" ? "suspended-second" : "suspended-fourth";
    const seventh = extension === undefined ? [] : [add(7, major)];
    const fifth: DegreeChange[] = triad === "augmented" ? [{ type: "alter", value: 5, alter: 1 }] : [];
    return {
      kind,
      degrees: [...fifth, ...sixthAdded, ...seventh, ...above(suspension === "second" ? 9 : 11)],
    };
  }
  switch (triad) {
    case "major":
    case "minor": {
      if (extension === undefined) {
        if (sixth) return { kind: `${triad}-sixth`, degrees: [] };
        return { kind: triad, degrees: [] };
      }
      if (triad === "minor" && major === 1)
        return { kind: "major-minor", degrees: [...sixthAdded, ...above()] };
      const kind = NUMBERED[`${triad} ${plan.seventh ?? "minor"}`]?.[extension];
      return kind === undefined ? undefined : { kind, degrees: sixthAdded };
    }
    case "augmented": {
      if (extension === undefined) return { kind: "augmented", degrees: sixthAdded };
      if (extension === 7 && major === 0) return { kind: "augmented-seventh", degrees: sixthAdded };
      const kind = NUMBERED[`major ${plan.seventh ?? "minor"}`]?.[extension];
      return kind === undefined
        ? undefined
        : { kind, degrees: [{ type: "alter", value: 5, alter: 1 }, ...sixthAdded] };
    }
    case "diminished":
      if (sixth) return undefined;
      if (extension === undefined) return { kind: "diminished", degrees: [] };
      if (major === 1) return { kind: "diminished", degrees: [add(7, 1), ...above()] };
      return { kind: "diminished-seventh", degrees: above() };
    case "half-diminished":
      return sixth || major === 1 ? undefined : { kind: "half-diminished", degrees: above() };
  }
}

/** Chords that have a kind of their own are put as that. */
function simplified(kind: string, degrees: readonly DegreeChange[]): Pick<ChordSymbol, "kind" | "degrees"> {
  const [first, ...others] = degrees;
  if (first?.type === "alter" && first.value === 5) {
    if (kind === "minor-seventh" && first.alter === -1) return { kind: "half-diminished", degrees: others };
    if (kind === "dominant" && first.alter === 1) return { kind: "augmented-seventh", degrees: others };
    if (kind === "major" && first.alter === 1) return { kind: "augmented", degrees: others };
    if (kind === "minor" && first.alter === -1) return { kind: "diminished", degrees: others };
  }
  return { kind, degrees };
}

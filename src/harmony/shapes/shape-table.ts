import { mod12, pitchClass } from "../../song/pitch.js";
import type { Chord } from "../chord-tones.js";
import { melodyDegree } from "../melody-degree.js";
import { FAMILIES, type ShapeFamily, type StringSet } from "./families.js";
import { membersOf } from "./members.js";
import { isFirm, type SlotTone, slotTones } from "./slots.js";

/** A grip that belongs to a family of shapes. */
export interface Shape {
  readonly family: ShapeFamily;
  /** Degree of its lowest note; over a slash bass, of the lowest note above that. */
  readonly lowest: string;
  /** Degree of the chord tone that the melody stands for; absent where it is a tone of the chord itself. */
  readonly melodyFor?: string;
  /** The shape lies over a slash bass that is no part of it. */
  readonly isOverBass: boolean;
}

/** Every shape of a chord under one melody note, in any octave and place. */
export interface ShapeTable {
  readonly rootPitchClass: number;
  readonly bassPitchClass: number | undefined;
  readonly shapes: Shapes;
}

/** By the number that `keyOf` makes of the voices, which is the same over every root. */
type Shapes = ReadonlyMap<number, Shape>;

/** The shapes of a chord under a melody note (in a rest of the melody: under its own top note), a suspension's own. Made once. */
export function shapesUnder(chord: Chord, melodyPitchClass: number, isSuspended = false): ShapeTable {
  const tables = tablesOf.get(chord) ?? [];
  tablesOf.set(chord, tables);
  const place = placeOf(melodyPitchClass, isSuspended);
  const table = tables[place] ?? tableOf(chord, melodyPitchClass, isSuspended);
  tables[place] = table;
  return table;
}

/** Twelve places for melody notes, and twelve where they are suspensions. */
const placeOf = (semitones: number, isSuspended: boolean): number => semitones + (isSuspended ? 12 : 0);

/** By the place of the melody note's pitch class. */
const tablesOf = new WeakMap<Chord, ShapeTable[]>();

function tableOf(chord: Chord, melodyPitchClass: number, isSuspended: boolean): ShapeTable {
  const rootPitchClass = pitchClass(chord.symbol.root);
  const shapesAt = shapesOfKind(chord.tones.map(({ label }) => label).join(" "));
  const place = placeOf(mod12(melodyPitchClass - rootPitchClass), isSuspended);
  const shapes = shapesAt[place] ?? shapesOver(chord, melodyPitchClass, isSuspended);
  shapesAt[place] = shapes;
  return { rootPitchClass, bassPitchClass: chord.bass?.pitchClass, shapes };
}

/** The shapes of all chords that have the same degrees, by the place of the semitones from root to melody. */
function shapesOfKind(degrees: string): Shapes[] {
  const known = KINDS.get(degrees);
  if (known !== undefined) return known;
  if (KINDS.size >= MOST_KINDS) KINDS.clear();
  const shapes: Shapes[] = [];
  KINDS.set(degrees, shapes);
  return shapes;
}

const KINDS = new Map<string, Shapes[]>();

/** More than any shelf of lead sheets has; a symbol may ask for anything. */
const MOST_KINDS = 200;

/**
 * The shape that sounding notes make, or undefined. `strings` and `midis` go together, from the lowest note
 * up, the melody last. Cheap enough to be asked for every placement of every event.
 */
export function shapeOf(
  table: ShapeTable,
  strings: readonly { readonly string: number }[],
  midis: readonly number[],
): Shape | undefined {
  if (midis.length > MOST_VOICES) return fullShapeOf(table, strings, midis);
  const whole = table.shapes.get(keyAt(table.rootPitchClass, strings, midis, 0));
  if (whole !== undefined || table.bassPitchClass === undefined) return whole;
  const [bass, next] = strings;
  const isBassLowest = (midis[0] ?? 0) % 12 === table.bassPitchClass;
  if (!isBassLowest || bass === undefined || next === undefined || bass.string - next.string > 2)
    return undefined;
  const above = table.shapes.get(keyAt(table.rootPitchClass, strings, midis, 1));
  return above && { ...above, isOverBass: true };
}

/**
 * One more note than a family has, as in a full barre chord: its shape over the root on the next string, or its shape on
 * the root with the fifth on the string it leaves out.
 */
function fullShapeOf(
  table: ShapeTable,
  strings: readonly { readonly string: number }[],
  midis: readonly number[],
): Shape | undefined {
  const [lowest, next] = strings;
  if (midis.length > MOST_VOICES + 1 || lowest === undefined || next === undefined) return undefined;
  if ((midis[0] ?? 0) % 12 !== table.rootPitchClass || lowest.string - next.string !== 1) return undefined;
  const above = table.shapes.get(keyAt(table.rootPitchClass, strings, midis, 1));
  if (above !== undefined) return { ...above, lowest: "1" };
  if (mod12((midis[1] ?? 0) - table.rootPitchClass) !== PERFECT_FIFTH) return undefined;
  const withoutFifth = <One>(voices: readonly One[]) => voices.filter((_, voice) => voice !== 1);
  return table.shapes.get(keyAt(table.rootPitchClass, withoutFifth(strings), withoutFifth(midis), 0));
}

const PERFECT_FIFTH = 7;

const NO_KEY = -1;

/** The most voices a family has. */
const MOST_VOICES = 4;

/** Added to a key where a string is skipped above the lowest: more than four degrees come to. */
const SKIPPED = 13 ** MOST_VOICES;

/** The number of what sounds from `first` up; NO_KEY where no family lies so. */
function keyAt(
  rootPitchClass: number,
  strings: readonly { readonly string: number }[],
  midis: readonly number[],
  first: number,
): number {
  if (midis.length - first > MOST_VOICES) return NO_KEY;
  let key = 0;
  let skippedAbove = 0;
  for (let voice = first; voice < midis.length; voice += 1) {
    const midi = midis[voice] ?? 0;
    if (voice > first) {
      const interval = midi - (midis[voice - 1] ?? 0);
      const skipped = (strings[voice - 1]?.string ?? 0) - (strings[voice]?.string ?? 0) - 1;
      if (interval <= 0 || interval > 12) return NO_KEY;
      if (skipped !== 0) {
        if (skipped !== 1 || voice !== first + 1) return NO_KEY;
        skippedAbove = SKIPPED;
      }
    }
    key = key * 13 + 1 + ((midi + 12 - rootPitchClass) % 12);
  }
  return key + skippedAbove;
}

/** The same number for a member of a family. */
function keyOf(member: readonly SlotTone[], strings: StringSet): number {
  let key = 0;
  for (const { offset } of member) key = key * 13 + 1 + offset;
  return key + (strings === "neighbours" ? 0 : SKIPPED);
}

function shapesOver(chord: Chord, melodyPitchClass: number, isSuspended: boolean): Shapes {
  const melody = melodyDegree(chord, melodyPitchClass, isSuspended);
  const standsFor = melody.tone === undefined ? melody.standsFor?.label : undefined;
  const stands = standsFor === undefined ? {} : { melodyFor: standsFor };
  const slots = slotTones(chord, melody, mod12(melodyPitchClass - pitchClass(chord.symbol.root)));
  const shapes = new Map<number, Shape>();
  for (const description of FAMILIES) {
    for (const member of membersOf(description, slots, (offset) => toneInFourths(chord, offset))) {
      const [lowest] = member;
      const key = keyOf(member, description.strings);
      if (lowest === undefined || !isFirm(chord, lowest) || shapes.has(key)) continue;
      const family = rootlessOr(description.family, member, chord);
      shapes.set(key, { family, lowest: lowest.label, ...stands, isOverBass: false });
    }
  }
  return shapes;
}

/** A tone of the chord; in a minor seventh chord the eleventh too, which fourths need. */
function toneInFourths(chord: Chord, offset: number): SlotTone | undefined {
  const tone = chord.tones.find(({ semitones }) => mod12(semitones) === offset);
  if (tone !== undefined) return { label: tone.label, offset };
  const has = (label: string) => chord.tones.some((other) => other.label === label);
  return offset === 5 && has("b3") && has("b7") ? { label: "11", offset } : undefined;
}

/** Four voices without the root, whose place the chord's own ninth has, are called by what they hold. */
function rootlessOr(family: ShapeFamily, member: readonly SlotTone[], chord: Chord): ShapeFamily {
  const holds = (number: number) =>
    chord.tones.some((tone) => tone.number === number && member.some(({ label }) => label === tone.label));
  if ((family !== "drop-2" && family !== "drop-3") || holds(1) || !holds(9)) return family;
  return holds(13) ? "rootless thirteenth" : "rootless ninth";
}

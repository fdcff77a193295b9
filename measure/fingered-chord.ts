import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { SoundingString } from "#built/guitar/fingering.js";
import type { Finger } from "#built/guitar/grip.js";

/** A chord whose left-hand fingers somebody wrote down, from the lowest-pitched string up. */
export interface FingeredChord {
  readonly strings: readonly SoundingString[];
  readonly fingers: readonly Finger[];
  /** MIDI numbers of the open strings, string 1 first. */
  readonly tuning: readonly number[];
  /** In how many places it is printed; 1 where that is not counted. */
  readonly count: number;
}

/** The calibration half may be looked at while weights are chosen; the test half tells how good they are. */
export type Half = "calibration" | "test";

/** The layout of `chords-public.json`; pitch, finger and placement run in the same order. */
interface PublishedChords {
  readonly tunings: Readonly<Record<string, readonly number[]>>;
  readonly chords: readonly {
    readonly fingers: readonly (Finger | null)[];
    readonly placements: readonly (readonly (readonly [string: number, fret: number])[])[];
    readonly best: number | null;
    readonly tuning: string;
    readonly count?: number;
  }[];
}

/** Chords with settled placement from a file of printed fingerings; those that stay open are left out. */
export function publishedChords(path: string): readonly FingeredChord[] {
  const { tunings, chords } = JSON.parse(readFileSync(path, "utf8")) as PublishedChords;
  return chords.flatMap(({ fingers, placements, best, tuning, count = 1 }) => {
    const placement = placements[best ?? (placements.length === 1 ? 0 : -1)];
    const openStrings = tunings[tuning];
    if (placement === undefined || openStrings === undefined) return [];
    const notes = placement.map(([string, fret], index) => ({ string, fret, finger: fingers[index] ?? 0 }));
    return [fingeredChord(notes, openStrings, count)];
  });
}

/** The layout of chords-db: six strings from the lowest, -1 silent, frets counted from `baseFret`. */
interface ChordsDb {
  readonly chords: Readonly<
    Record<
      string,
      readonly {
        readonly positions: readonly {
          readonly frets: readonly number[];
          readonly fingers: readonly Finger[];
          readonly baseFret: number;
        }[];
      }[]
    >
  >;
}

const STANDARD_TUNING: readonly number[] = [64, 59, 55, 50, 45, 40];

/** The shapes of chords-db with a finger for every stopped string: its fingers only, for its pitches have errors. */
export function chordsDbShapes(): readonly FingeredChord[] {
  const { chords } = createRequire(import.meta.url)("@tombatossals/chords-db/lib/guitar.json") as ChordsDb;
  return Object.values(chords)
    .flat()
    .flatMap((chord) => chord.positions)
    .flatMap(({ frets, fingers, baseFret }) => {
      const notes = frets.flatMap((fret, index) => {
        const finger = fingers[index] ?? 0;
        if (fret < 0) return [];
        const string = frets.length - index;
        return [
          fret === 0 ? { string, fret, finger: 0 as const } : { string, fret: fret + baseFret - 1, finger },
        ];
      });
      const isFingered = notes.every((note) => note.fret > 0 === note.finger > 0);
      const isStopped = notes.some((note) => note.fret > 0);
      return isFingered && isStopped ? [fingeredChord(notes, STANDARD_TUNING, 1)] : [];
    });
}

/** Which half a chord belongs to: by its shape, so that one shape at two places never stands in both. */
export const halfOf = (chord: FingeredChord): Half =>
  hashOf(shapeOf(chord)) % 2 === 0 ? "calibration" : "test";

/** Strings and frets by name; a chord without open strings is named as if its lowest fret were the first. */
export function shapeOf({ strings }: FingeredChord): string {
  const lowest = Math.min(...strings.map((note) => note.fret));
  const moved = lowest === 0 ? 0 : lowest - 1;
  return strings.map(({ string, fret }) => `${string}:${fret - moved}`).join(" ");
}

/** The 32-bit FNV-1a hash of a text. */
function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (const byte of Buffer.from(text)) hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  return hash;
}

function fingeredChord(
  notes: readonly (SoundingString & { readonly finger: Finger })[],
  tuning: readonly number[],
  count: number,
): FingeredChord {
  const sorted = notes.toSorted((a, b) => b.string - a.string);
  return {
    strings: sorted.map(({ string, fret }) => ({ string, fret })),
    fingers: sorted.map((note) => note.finger),
    tuning,
    count,
  };
}

import type { ChordSymbol } from "../../song/chord-symbol.js";
import { tonicOf } from "../../song/key-name.js";
import { mod12, nameOf, type PitchName, pitchClass } from "../../song/pitch.js";
import type { KeyMark } from "../../song/tune.js";
import type { Voice } from "../../song/voices.js";
import { parseDegree, spellDegree } from "../chord-degree.js";
import { CHORD_KINDS } from "../chord-kinds.js";
import { cheapestReading } from "./cheapest-reading.js";
import { type MetricGrid, type Moment, momentsOf } from "./moments.js";
import { maskOf, type ReadChord } from "./read-chords.js";
import { READING_WEIGHTS, type ReadingWeights } from "./weights.js";

/** A chord worked out from what voices sing. Times in ticks. */
export interface ChordFromVoices {
  readonly start: number;
  readonly end: number;
  readonly symbol: ChordSymbol;
  /** The best other reading where it begins, and the points it would cost the whole reading more. */
  readonly other: { readonly symbol: ChordSymbol; readonly extraCost: number } | undefined;
}

/**
 * The harmony of voices that sound together: what sounds is cut into spans and each is named as a chord
 * symbol with its bass, all in one search (`cheapest-reading.ts`). Roots and basses are spelled as they are
 * sung, those that nobody sings by the key.
 */
export function chordsFromVoices(
  voices: readonly Voice[],
  keys: readonly KeyMark[],
  grid: MetricGrid,
  weights: ReadingWeights = READING_WEIGHTS,
): readonly ChordFromVoices[] {
  const moments = momentsOf(voices, grid);
  const keyAt = (tick: number) => keys.findLast(({ at }) => at <= tick) ?? keys[0];
  // Counted from the tonic, so that of equal readings the same counts in every key.
  const tonic = pitchClass(tonicOf(keys[0]?.fifths ?? 0, "major"));
  const spans = cheapestReading(
    moments.map((moment) => movedMoment(moment, -tonic)),
    ({ start }) => scaleOf(keyAt(start), tonic),
    weights,
  );
  const chords: ChordFromVoices[] = [];
  for (const { first, last, chord, other } of spans) {
    const here = moments.slice(first, last);
    const start = here[0]?.start ?? 0;
    const end = here.at(-1)?.end ?? start;
    const spelled = (one: ReadChord) => symbolOf(movedChord(one, tonic), here, keyAt(start));
    const symbol = spelled(chord);
    const before = chords.at(-1);
    if (before !== undefined && JSON.stringify(before.symbol) === JSON.stringify(symbol)) {
      chords[chords.length - 1] = { ...before, end };
      continue;
    }
    chords.push({
      start,
      end,
      symbol,
      other: other && { symbol: spelled(other.chord), extraCost: other.extraCost },
    });
  }
  return chords;
}

const movedMoment = (moment: Moment, semitones: number): Moment => ({
  ...moment,
  notes: moment.notes.map((note) => ({ ...note, pitchClass: mod12(note.pitchClass + semitones) })),
});

const movedChord = (chord: ReadChord, semitones: number): ReadChord => ({
  ...chord,
  root: mod12(chord.root + semitones),
  bass: mod12(chord.bass + semitones),
  tones: chord.tones.map((tone) => mod12(tone + semitones)),
});

/** Pitch classes of a key as bits, counted from a tonic; in minor both sevenths. */
function scaleOf(key: KeyMark | undefined, tonic: number): number {
  const fifths = key?.fifths ?? 0;
  const major = [0, 2, 4, 5, 7, 9, 11].map((step) => mod12(pitchClass(tonicOf(fifths, "major")) + step));
  const raised = key?.mode === "minor" ? [mod12(pitchClass(tonicOf(fifths, "minor")) + 11)] : [];
  return maskOf([...major, ...raised].map((tone) => mod12(tone - tonic)));
}

function symbolOf(chord: ReadChord, moments: readonly Moment[], key: KeyMark | undefined): ChordSymbol {
  const nameOfTone = (tone: number): PitchName => {
    for (const { notes } of moments)
      for (const { pitchClass: sung, note } of notes)
        if (sung === tone) return { letter: note.pitch.letter, alter: note.pitch.alter };
    return nameInKey(tone, key);
  };
  const root = rootAsSpelled(chord, nameOfTone);
  const bass = nameOfTone(chord.bass);
  const isRootLowest = pitchClass(root) === chord.bass;
  return { root, kind: chord.kind, degrees: [], bass: isRootLowest ? undefined : bass };
}

/** Chords that sound the same from each of their tones: only the spelling says which is the root. */
const ALIKE_FROM_EACH_TONE: readonly string[] = ["diminished-seventh", "augmented"];

function rootAsSpelled({ root, kind, tones }: ReadChord, nameOfTone: (tone: number) => PitchName): PitchName {
  const degrees = (CHORD_KINDS[kind] ?? []).map(parseDegree);
  if (!ALIKE_FROM_EACH_TONE.includes(kind)) return nameOfTone(root);
  const fits = (name: PitchName): number =>
    degrees.filter((degree) => {
      const written = spellDegree(name, degree);
      return nameOf(written) === nameOf(nameOfTone(pitchClass(written)));
    }).length;
  return tones.map(nameOfTone).reduce((best, name) => (fits(name) > fits(best) ? name : best));
}

/** Degrees by which the twelve tones of a key are spelled: raised fourth, lowered third, sixth and seventh. Common practice. */
const DEGREES = [
  [1, 0],
  [2, 1],
  [2, 2],
  [3, 3],
  [3, 4],
  [4, 5],
  [4, 6],
  [5, 7],
  [6, 8],
  [6, 9],
  [7, 10],
  [7, 11],
] as const;

function nameInKey(tone: number, key: KeyMark | undefined): PitchName {
  const tonic = tonicOf(key?.fifths ?? 0, key?.mode ?? "major");
  const [number, semitones] = DEGREES[mod12(tone - pitchClass(tonic))] ?? DEGREES[0];
  return spellDegree(tonic, { number, semitones });
}

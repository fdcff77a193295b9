import { spellDegree } from "../../harmony/chord-degree.js";
import { type Chord, chordOf } from "../../harmony/chord-tones.js";
import type { ChordSymbol } from "../../song/chord-symbol.js";
import {
  midiOf,
  mod12,
  type Pitch,
  type PitchName,
  pitchClass,
  pitchNamed,
  transposeName,
} from "../../song/pitch.js";
import type { ChordSpan, Tune } from "../../song/tune.js";
import type { VoiceNote } from "../../song/voices.js";

/** What the bass plays under a chord melody. */
export type BassKind = "none" | "roots" | "fifths" | "walking";

/** Where a bass may lie, MIDI numbers of the lowest and the highest note. */
export interface BassRange {
  readonly lowest: number;
  readonly highest: number;
}

/** A bass note keeps at least a third from the melody over it. */
const UNDER_MELODY_SEMITONES = 3;

/**
 * Where a bass under a tune is struck, in ticks, whether or not its strings have a note for it there.
 */
export const bassOnsets = (tune: Tune, kind: Exclude<BassKind, "none">): readonly number[] => {
  const beats = beatsOf(tune);
  return tune.chords.flatMap((span) => (isPlayed(span) ? onsetsIn(span, beats, kind) : []));
};

/**
 * The notes of a bass under a tune: at each chord change its root or the bass that its symbol names, again on
 * each downbeat. With `fifths` root and fifth by turns, on the strong beats of a bar of an even number of beats, on
 * downbeats in any other. `walking`: a note on every beat, tones of the chord on the way, and on the beat before
 * a change a semitone from where it goes. Each as near as may be to the one before. Common practice.
 */
export function bassLine(
  tune: Tune,
  kind: Exclude<BassKind, "none">,
  range: BassRange,
): readonly VoiceNote[] {
  const notes: VoiceNote[] = [];
  const beats = beatsOf(tune);
  tune.chords.forEach((span, index) => {
    if (!isPlayed(span)) return;
    const chord = chordOf(span.symbol);
    const next = tune.chords[index + 1];
    const onsets = onsetsIn(span, beats, kind);
    onsets.forEach((onset, place) => {
      const end = onsets[place + 1] ?? span.end;
      const isLast = place === onsets.length - 1;
      const before = notes.at(-1)?.midi ?? range.lowest + 5;
      const names = namesFor(kind, chord, next, place, isLast);
      const pitch = nearest(names, before, { ...range, highest: ceilingAt(tune, onset, end, range) });
      if (pitch === undefined) return;
      const note = { onset, length: end - onset, pitch, midi: midiOf(pitch) };
      notes.push({ ...note, isMelody: false, isBassLine: true });
    });
  });
  return notes;
}

const isPlayed = (span: ChordSpan): span is ChordSpan & { readonly symbol: ChordSymbol } =>
  span.symbol !== undefined && span.end > span.start;

interface Beat {
  readonly at: number;
  readonly isDownbeat: boolean;
  readonly isStrong: boolean;
}

function beatsOf({ measures, ticksPerQuarter }: Tune): readonly Beat[] {
  return measures.flatMap(({ start, length, meter }) => {
    const { beats = 4, beatType = 4 } = meter ?? {};
    const isCompound = beatType >= 8 && beats > 3 && beats % 3 === 0;
    const beat = Math.round((ticksPerQuarter * (isCompound ? 12 : 4)) / beatType);
    const count = Math.ceil(length / beat);
    return Array.from({ length: count }, (_, index) => ({
      at: start + index * beat,
      isDownbeat: index === 0,
      isStrong: index === 0 || (count % 2 === 0 && index === count / 2),
    }));
  });
}

/** Where the bass is struck while a chord lasts: where it begins, and then on the beats of its kind. */
function onsetsIn({ start, end }: ChordSpan, beats: readonly Beat[], kind: BassKind): readonly number[] {
  const within = beats.filter(({ at }) => at > start && at < end);
  const on = within.filter(({ isDownbeat, isStrong }) =>
    kind === "walking" ? true : kind === "fifths" ? isStrong : isDownbeat,
  );
  return [start, ...on.map(({ at }) => at)];
}

/** The names that the bass may have at one place of its chord, the likeliest first. */
function namesFor(
  kind: BassKind,
  chord: Chord,
  next: ChordSpan | undefined,
  place: number,
  isLast: boolean,
): readonly PitchName[] {
  const root = chord.bass?.name ?? chord.symbol.root;
  if (place === 0 || kind === "roots") return [root];
  const fifth = chord.tones.find(({ number }) => number === 5)?.name ?? spellDegree(chord.symbol.root, FIFTH);
  if (kind === "fifths") return place % 2 === 1 ? [fifth] : [root];
  const goal = next?.symbol === undefined ? undefined : (next.symbol.bass ?? next.symbol.root);
  if (isLast && goal !== undefined && pitchClass(goal) !== pitchClass(root))
    return [transposeName(goal, "-2m"), transposeName(goal, "2m")];
  const others = chord.tones.map(({ name }) => name).filter((name) => pitchClass(name) !== pitchClass(root));
  const third = others[0] ?? fifth;
  return place % 2 === 1 ? [third, fifth] : [fifth, root];
}

const FIFTH = { number: 5, semitones: 7 };

/** The highest that a bass note may be under what the melody sings over it. */
function ceilingAt({ melody }: Tune, onset: number, end: number, { highest }: BassRange): number {
  const over = melody.filter((note) => note.onset < end && note.onset + note.length > onset);
  return Math.min(highest, ...over.map(({ midi }) => midi - UNDER_MELODY_SEMITONES));
}

/** Of the names, in any octave of the range, the pitch nearest to the one before, though never the same. */
function nearest(
  names: readonly PitchName[],
  before: number,
  { lowest, highest }: BassRange,
): Pitch | undefined {
  const possible: Pitch[] = [];
  for (const name of names)
    for (let midi = lowest; midi <= highest; midi += 1) {
      const pitch = mod12(midi) === pitchClass(name) ? pitchNamed(name, midi) : undefined;
      if (pitch !== undefined) possible.push(pitch);
    }
  const far = (pitch: Pitch) => Math.abs(midiOf(pitch) - before) + (midiOf(pitch) === before ? 12 : 0);
  return possible.sort((one, other) => far(one) - far(other))[0];
}

import { type Instrument, midiAt, stringCount } from "../../guitar/instrument.js";
import { THUMB_STRINGS } from "../../guitar/thumb-strings.js";
import { type Chord, chordOf } from "../../harmony/chord-tones.js";
import { midiOf, mod12, pitchNamed } from "../../song/pitch.js";
import type { MelodyNote, Tune } from "../../song/tune.js";
import type { Voice, VoiceNote } from "../../song/voices.js";
import { type BassKind, bassLine } from "./bass-line.js";

/** The bass stays on the thumb's strings, up to this fret of the highest of them. */
const HIGHEST_BASS_FRET = 7;

/** The tones that say what the chord is lie this near under the melody. */
const NEAR_MELODY_SEMITONES = 14;

/**
 * A tune with a bass under it, as an ensemble of the melody, the bass and the tones that say what each chord is;
 * the texture of the voices plays it, and thins the grips to what the hand keeps over the bass. As it came where
 * no bass is asked for.
 */
export function withBass(tune: Tune, kind: BassKind, instrument: Instrument): Tune {
  if (kind === "none") return tune;
  const strings = stringCount(instrument);
  const bass = bassLine(tune, kind, {
    lowest: midiAt(instrument, strings, instrument.hasOpenStrings ? 0 : 1),
    highest: midiAt(instrument, strings - THUMB_STRINGS + 1, HIGHEST_BASS_FRET),
  });
  const melody = tune.melody.map(({ onset, length, pitch, midi }) => ({
    onset,
    length,
    pitch,
    midi,
    isMelody: true,
  }));
  const inner = [0, 1].map((row) => innerVoice(tune, row, bass));
  const voices: readonly Voice[] = [melody, ...inner, bass].map((notes, index) => ({
    index,
    name: NAMES[index] ?? "",
    notes,
  }));
  return { ...tune, voices };
}

const NAMES = ["Melody", "Upper chord tone", "Lower chord tone", "Bass"];

/**
 * One of the two tones that say what the chord is, struck with the melody note at each change and each downbeat
 * bass, for as long as that note lasts, so that the melody is free to move on.
 */
function innerVoice(tune: Tune, row: number, bass: readonly VoiceNote[]): readonly VoiceNote[] {
  const downbeats = new Set(tune.measures.map(({ start }) => start));
  return tune.chords.flatMap((span): readonly VoiceNote[] => {
    if (span.symbol === undefined) return [];
    const chord = chordOf(span.symbol);
    const under = tune.melody.filter(
      ({ onset, length }) =>
        (onset >= span.start || onset + length > span.start) &&
        onset < span.end &&
        onset + length > span.start,
    );
    return under.flatMap((note): readonly VoiceNote[] => {
      const onset = Math.max(note.onset, span.start);
      if (onset !== span.start && note !== under[0] && !downbeats.has(onset)) return [];
      const tone = tonesUnder(chord, note)[row];
      const low = bass.find((one) => one.onset <= onset && one.onset + one.length > onset)?.midi ?? 0;
      const pitch = tone && highestUnder(tone, note.midi, low);
      const length = Math.min(note.onset + note.length, span.end) - onset;
      return pitch === undefined ? [] : [{ onset, length, pitch, midi: midiOf(pitch), isMelody: false }];
    });
  });
}

/** The tones that say what the chord is, less what the melody has and what would grate under it; else the fifth. */
function tonesUnder(chord: Chord, { midi }: MelodyNote): Chord["tones"] {
  const isClear = (pitchClass: number) => ![0, 1].includes(mod12(midi - pitchClass));
  const guides = chord.tones.filter(({ role, pitchClass }) => role === "guide" && isClear(pitchClass));
  const others = chord.tones.filter(({ role, pitchClass }) => role === "fifth" && isClear(pitchClass));
  return [...guides, ...others].slice(0, 2);
}

/** A tone as high as it lies under the melody, and over the bass; undefined where there is no room. */
function highestUnder({ name, pitchClass }: Chord["tones"][number], melodyMidi: number, bassMidi: number) {
  for (let midi = melodyMidi - 2; midi > bassMidi && midi >= melodyMidi - NEAR_MELODY_SEMITONES; midi -= 1)
    if (mod12(midi) === pitchClass && melodyMidi - midi !== 13) return pitchNamed(name, midi);
  return undefined;
}

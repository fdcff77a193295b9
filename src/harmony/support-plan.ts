import { mod12, pitchClass } from "../song/pitch.js";
import { addedSeventh } from "./added-seventh.js";
import { spellDegree } from "./chord-degree.js";
import type { Chord, ChordTone, Role } from "./chord-tones.js";
import { type MelodyDegree, melodyDegree } from "./melody-degree.js";

/** A tone that the supporting notes under one melody note should hold. */
export interface WantedTone {
  readonly label: string;
  readonly pitchClass: number;
  readonly role: Role;
}

/** What the grip under one melody note should hold, whatever the instrument. */
export interface SupportPlan {
  readonly melody: MelodyDegree;
  /** The melody is an eleventh that goes down to the chord's own third. */
  readonly isSuspended: boolean;
  /** Without the tone the melody stands for, and without those that would clash under it. */
  readonly wanted: readonly WantedTone[];
  /** A tone that may be there in place of another, and whether it is the first choice. */
  readonly instead:
    | { readonly tone: WantedTone; readonly of: WantedTone; readonly isPreferred: boolean }
    | undefined;
  /** Root and fifth, in a triad also the third on top, which may be doubled once every wanted tone is there. */
  readonly mayDouble: readonly WantedTone[];
  /** The tone on top, which a full chord may have below once more. */
  readonly mayDoubleWhenFull: WantedTone | undefined;
  /** The chord tone that a foreign melody note stands for: it may stay under it, where it does not clash. */
  readonly mayStay: WantedTone | undefined;
  /** A tone that the symbol does not name and players add. */
  readonly mayAdd: WantedTone | undefined;
  /** Pitch class the grip should have lowest: the slash bass. */
  readonly bass: WantedTone | undefined;
  /** Notes of a complete grip, melody included. */
  readonly notes: number;
  /** Notes it may have at most: a triad among larger chords may be as full as they are, and one more over its root. */
  readonly mostNotes: number;
  /** The symbol itself asks for a minor ninth between this pitch class and the melody. */
  readonly askedClash: number | undefined;
  readonly chord: Chord;
}

/** More than five are struck through by few. Common practice. */
const MOST_NOTES = 5;

/**
 * What stands under a melody note. `notes` is the number asked for, or "auto": three for triads, four for
 * sixth and seventh chords and larger.
 *
 * @param isSuspended See `melodyDegree`.
 */
export function supportPlan(
  chord: Chord,
  melodyPitchClass: number,
  notes: "auto" | 3 | 4,
  isSuspended = false,
): SupportPlan {
  const melody = melodyDegree(chord, melodyPitchClass, isSuspended);
  const tones = withoutEleventhAgainstThird(chord, melody);
  const isRootInMelody = melody.tone?.role === "root";
  const root = chord.tones.find((tone) => tone.role === "root");
  // A ninth lowered by the symbol is heard against its root; there the minor ninth is the chord.
  const rootUnderFlatNinth = melody.tone?.label === "b9" ? root?.pitchClass : undefined;
  // A symbol that names a tone and a bass a semitone under it asks for both, the bass below: C/B under C.
  const isSemitoneOverBass =
    chord.bass !== undefined && mod12(melodyPitchClass - chord.bass.pitchClass) === 1;
  const isBassAsked = melody.tone !== undefined || !isSemitoneOverBass;
  const wanted: WantedTone[] = [];
  for (const tone of tones) {
    if (tone === melody.standsFor || tone.pitchClass === melodyPitchClass) continue;
    if (tone.number === 7 && tone.semitones === 11 && isRootInMelody) {
      const sixth = sixthOf(chord);
      if (!tones.some((other) => other.pitchClass === sixth.pitchClass)) wanted.push(sixth);
      continue;
    }
    const isSemitoneUnder = mod12(melodyPitchClass - tone.pitchClass) === 1;
    if (isSemitoneUnder && tone.pitchClass !== rootUnderFlatNinth) continue;
    wanted.push(tone);
  }
  const mayDouble = tones.filter(
    (tone) =>
      (tone.role === "root" || tone.role === "fifth" || (tone === melody.tone && !chord.isSeventhOrLarger)) &&
      mod12(melodyPitchClass - tone.pitchClass) !== 1 &&
      (tone !== melody.standsFor || tone === melody.tone),
  );
  const bass = chord.bass;
  const added = addedSeventh(chord);
  return {
    melody,
    isSuspended,
    wanted,
    instead: eleventhForFifth(chord, melody, wanted, notes !== "auto"),
    mayDouble,
    mayDoubleWhenFull: chord.isSeventhOrLarger && notes === "auto" ? melody.tone : undefined,
    mayStay:
      melody.tone === undefined && melody.standsFor !== undefined && tones.includes(melody.standsFor)
        ? melody.standsFor
        : undefined,
    mayAdd: added && { ...added, role: "extension" },
    bass:
      bass === undefined || !isBassAsked
        ? undefined
        : { label: bass.degree ?? "bass", pitchClass: bass.pitchClass, role: "root" },
    notes: notesOf(chord, notes),
    mostNotes: notes === "auto" ? MOST_NOTES : notes,
    askedClash: isSemitoneOverBass && isBassAsked ? bass?.pitchClass : rootUnderFlatNinth,
    chord,
  };
}

/** Notes of a complete grip of a chord, melody included: as many as are asked for, or as it needs. */
const notesOf = (chord: Chord, notes: "auto" | 3 | 4): number =>
  notes === "auto" ? (chord.isSeventhOrLarger ? 4 : 3) : notes;

/**
 * The root of a major seventh chord in the melody: the sixth stands for the seventh, which would lie a
 * semitone under it. Pease & Pullig, *Modern Jazz Voicings*, p. 32.
 */
function sixthOf(chord: Chord): WantedTone {
  const name = spellDegree(chord.symbol.root, { number: 6, semitones: 9 });
  return { label: "6", pitchClass: pitchClass(name), role: "guide" };
}

/**
 * The third of a minor seventh chord on top: with the eleventh for the fifth everything under it lies in
 * fourths, the usual quartal sound of that chord. It comes first among grips of so many notes as are asked for; else
 * the plain chord does, which says what the symbol says. Common practice.
 */
function eleventhForFifth(
  chord: Chord,
  melody: MelodyDegree,
  wanted: readonly WantedTone[],
  isPreferred: boolean,
): SupportPlan["instead"] {
  const isMinorSeventh = chord.tones.some((tone) => tone.label === "b7") && melody.tone?.label === "b3";
  const fifth = wanted.find((tone) => tone.label === "5");
  if (!isMinorSeventh || fifth === undefined || wanted.some((tone) => tone.label === "11")) return undefined;
  const name = spellDegree(chord.symbol.root, { number: 11, semitones: 17 });
  return { tone: { label: "11", pitchClass: pitchClass(name), role: "colour" }, of: fifth, isPreferred };
}

/**
 * A natural eleventh and a major third are not held together: an eleventh chord gives up the third (and
 * sounds suspended), a thirteenth chord the eleventh. LilyPond Notation Reference, "Chord mode"; the
 * eleventh chord: common practice. An eleventh merely added to a triad stays.
 */
function withoutEleventhAgainstThird(chord: Chord, melody: MelodyDegree): readonly ChordTone[] {
  const third = chord.tones.find((tone) => tone.number === 3 && tone.semitones === 4);
  const eleventh = chord.tones.find((tone) => tone.number === 11 && tone.semitones === 17);
  const isStacked =
    chord.tones.some((tone) => tone.number === 7) && chord.tones.some((tone) => tone.number === 9);
  if (third === undefined || eleventh === undefined || !isStacked) return chord.tones;
  const givenUp = chord.tones.some((tone) => tone.number === 13) ? eleventh : third;
  if (givenUp === melody.tone)
    return chord.tones.filter((tone) => tone !== (givenUp === third ? eleventh : third));
  return chord.tones
    .filter((tone) => tone !== givenUp)
    .map((tone) => (tone === eleventh && givenUp === third ? { ...tone, role: "guide" as const } : tone));
}

import { mod12 } from "../../song/pitch.js";
import { addedSeventh } from "../added-seventh.js";
import { parseDegree } from "../chord-degree.js";
import type { Chord, ChordTone } from "../chord-tones.js";
import type { MelodyDegree } from "../melody-degree.js";
import type { Slot } from "./families.js";

/** A tone that may fill a slot of a shape. */
export interface SlotTone {
  readonly label: string;
  /** Semitones above the root, 0..11. */
  readonly offset: number;
}

/** What each slot of a chord's shapes may hold under one melody note. */
export interface SlotTones {
  /** Tones of the chord, the slot's own first. */
  readonly tones: Readonly<Record<Slot, readonly SlotTone[]>>;
  readonly melody: SlotTone;
  /** The slot whose place the melody takes; undefined where it stands for none. */
  readonly melodySlot: Slot | undefined;
}

/** The slots in the order in which they are asked. */
export const SLOTS: readonly Slot[] = ["root", "third", "fifth", "seventh"];

/**
 * Which tones of a chord may stand in which slot: ninths in the root's, elevenths and thirteenths in the
 * fifth's, a suspension in the third's, the sixth in the seventh's (Pease & Pullig, *Modern Jazz Voicings*,
 * p. 32; the rest common practice). A triad with one tone added has that tone for its fourth.
 */
export function slotTones(chord: Chord, melody: MelodyDegree, melodyOffset: number): SlotTones {
  const has = (number: number) => chord.tones.some((tone) => tone.number === number);
  const numbered = (...numbers: readonly number[]) =>
    numbers.flatMap((number) => chord.tones.filter((tone) => tone.number === number).map(slotTone));
  const hasMajorThird = chord.tones.some((tone) => tone.number === 3 && tone.semitones === 4);
  // An eleventh chord gives up its major third, a thirteenth chord its eleventh.
  const isEleventhForThird = !has(3) || (hasMajorThird && has(7) && !has(13));
  const eleventh = chord.tones.filter((tone) => tone.number === 11).map(slotTone);
  const perfectEleventh = eleventh.filter((tone) => tone.offset === 5);
  const third = has(3) ? numbered(3) : numbered(4, 2);
  const fifth = hasMajorThird ? eleventh.filter((tone) => tone.offset !== 5) : eleventh;
  const isSixthForSeventh = melody.tone?.role === "root" && numbered(7).some((tone) => tone.offset === 11);
  const seventh = has(7) ? numbered(7) : numbered(6);
  const tones: Record<Slot, readonly SlotTone[]> = {
    root: [...numbered(1, 9), ...(has(3) ? numbered(2) : [])],
    third: [...third, ...(isEleventhForThird ? perfectEleventh : [])],
    fifth: [...numbered(5), ...fifth, ...numbered(13), ...(has(7) ? numbered(6) : [])],
    seventh: isSixthForSeventh ? [...seventh, { label: "6", offset: 9 }] : seventh,
  };
  if (seventh.length === 0 && chord.tones.length === 4) tones.seventh = addedTone(chord);
  const added = addedSeventh(chord);
  if (added !== undefined) tones.seventh = [{ label: added.label, offset: added.semitones }];
  return {
    tones,
    melody: { label: melody.label, offset: melodyOffset },
    melodySlot: slotOf(tones, melodyOffset) ?? slotOf(tones, offsetOf(melody.standsFor)),
  };
}

/** The fourth tone of a triad with an added second, fourth, ninth or eleventh. */
const addedTone = (chord: Chord): readonly SlotTone[] =>
  chord.tones.filter((tone) => ![1, 3, 5].includes(tone.number)).map(slotTone);

const slotTone = (tone: ChordTone): SlotTone => ({ label: tone.label, offset: mod12(tone.semitones) });

const offsetOf = (tone: ChordTone | undefined): number | undefined =>
  tone === undefined ? undefined : mod12(tone.semitones);

const slotOf = (
  tones: Readonly<Record<Slot, readonly SlotTone[]>>,
  offset: number | undefined,
): Slot | undefined => SLOTS.find((slot) => tones[slot].some((tone) => tone.offset === offset));

/**
 * Whether a shape may have a tone lowest: root, third, fifth, seventh, or what says the chord in their
 * place; never an added tone, a ninth or a thirteenth. Common practice.
 */
export function isFirm(chord: Chord, { label }: SlotTone): boolean {
  const { number } = parseDegree(label);
  const role = chord.tones.find((tone) => tone.label === label)?.role;
  return number === 5 || (number <= 7 && role !== "colour");
}

import type { Attack } from "../arrangement/arrangement.js";
import type { SoundingString } from "../guitar/fingering.js";
import type { Finger } from "../guitar/grip.js";
import { handPlaceMm } from "../guitar/hand-place.js";
import { fretPositionMm, type Instrument } from "../guitar/instrument.js";
import type { Pitch } from "../song/pitch.js";

/** One thing that can be done at an event: a grip, how it sounds, what it costs by itself. */
export interface Candidate {
  readonly attack: Attack;
  /** From the lowest-pitched string up; the melody note is the last, save where the melody rests. */
  readonly strings: readonly SoundingString[];
  readonly fingers: readonly Finger[];
  readonly midis: readonly number[];
  /** Degree of each supporting note. */
  readonly degrees: readonly string[];
  /** Strings that ring on from the event before although others are struck; a held grip need not name them. */
  readonly heldStrings?: readonly number[];
  /**
   * For a melody note over what rings on: the supports of earlier grips (as `supportsName` names them) of which
   * nothing more can ring on than this candidate keeps. Absent: a player's own grip, which keeps what it keeps.
   */
  readonly heldFrom?: ReadonlySet<string>;
  /** Some of the chord that rings on has been let go. */
  readonly isThinned: boolean;
  /** For each supporting note the voice of an ensemble that sings it; only where supports are sung notes. */
  readonly lines?: readonly SungLine[];
  /** Points of the grip itself: holding it, its voicing, its place in the texture. */
  readonly cost: number;
  /** Where the hand is, mm from the nut; undefined where nothing sounds. */
  readonly placeMm: number | undefined;
  /** By finger 0..4: fret it stops (0 = not down), and the strings it covers. */
  readonly fretOfFinger: readonly number[];
  readonly fromOfFinger: readonly number[];
  readonly toOfFinger: readonly number[];
}

/** A voice under the melody, and how far from where it sings the guitar has it. */
export interface SungLine {
  readonly voice: number;
  readonly octaves: number;
  /** As sung, spelling and all. */
  readonly pitch: Pitch;
}

/** Where a hand may wait while only open strings sound: the index finger at one of these frets. */
const WAITING_FRETS = [1, 3, 5, 7, 9, 12];

/**
 * Completes a candidate with what the moves between grips need to know. Over open strings alone the hand
 * is free to be anywhere on its way, so there it becomes several, one for each place to wait.
 */
export function candidates(instrument: Instrument, given: BareCandidate): readonly Candidate[] {
  const whole = withFingers(instrument, given);
  if (whole.placeMm !== undefined || given.strings.length === 0) return [whole];
  return WAITING_FRETS.map((fret) => ({ ...whole, placeMm: fretPositionMm(instrument, fret) }));
}

type BareCandidate = Pick<
  Candidate,
  "attack" | "strings" | "fingers" | "midis" | "degrees" | "cost" | "heldStrings" | "heldFrom" | "lines"
>;

function withFingers(instrument: Instrument, given: BareCandidate): Candidate {
  const fretOfFinger = [0, 0, 0, 0, 0];
  const fromOfFinger = [0, 0, 0, 0, 0];
  const toOfFinger = [0, 0, 0, 0, 0];
  given.strings.forEach((note, index) => {
    const finger = given.fingers[index] ?? 0;
    if (finger === 0) return;
    const isFirst = fretOfFinger[finger] === 0;
    fretOfFinger[finger] = note.fret;
    fromOfFinger[finger] = isFirst ? note.string : Math.max(fromOfFinger[finger] ?? 0, note.string);
    toOfFinger[finger] = isFirst ? note.string : Math.min(toOfFinger[finger] ?? 0, note.string);
  });
  const placeMm = handPlaceMm(instrument, given.strings, given.fingers);
  const isThinned = given.heldFrom?.has(supportsName(given)) === false;
  return { ...given, isThinned, placeMm, fretOfFinger, fromOfFinger, toOfFinger };
}

/** Where the melody note is; undefined for a chord in a rest of the melody. */
export const melodyString = (given: Candidate): SoundingString | undefined =>
  given.degrees.length < given.strings.length ? given.strings.at(-1) : undefined;

export const melodyFinger = (given: Candidate): Finger => given.fingers.at(-1) ?? 0;

/** Whether what a string sounds rings on from the event before. */
export const isRingingOn = (given: Candidate, string: number | undefined): boolean =>
  given.attack === "held" || (string !== undefined && given.heldStrings?.includes(string) === true);

export const supportCount = (given: Candidate): number => given.degrees.length;

/** A name for the supporting notes of a grip with their fingers. */
export const supportsName = ({
  strings,
  fingers,
  degrees,
}: Pick<Candidate, "strings" | "fingers" | "degrees">): string => {
  let name = "";
  for (let index = 0; index < degrees.length; index += 1)
    name += `${strings[index]?.string}:${strings[index]?.fret}:${fingers[index]} `;
  return name;
};

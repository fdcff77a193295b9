import type { Attack } from "../../arrangement/arrangement.js";
import type { SoundingString } from "../../guitar/fingering.js";
import type { Finger } from "../../guitar/grip.js";
import { handPlaceMm } from "../../guitar/hand-place.js";
import { fretPositionMm, type Instrument } from "../../guitar/instrument.js";
import type { Pitch } from "../../song/pitch.js";
import { fingerUses } from "./finger-use.js";
import { type Supports, supportsOf } from "./supports.js";

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
  readonly heldStrings?: readonly number[] | undefined;
  /** Its supporting notes and the fingers on them. */
  readonly supports: Supports;
  /**
   * For a melody note over what rings on: the names of the supports of earlier grips of which nothing more can
   * ring on than this candidate keeps. Absent: a player's own grip, which keeps what it keeps.
   */
  readonly heldFrom?: readonly string[] | undefined;
  /** `heldFrom` names supports together with the melody note over them, which rings on as the highest of these. */
  readonly keepsMelody?: true;
  /** Some of the chord that rings on has been let go. */
  readonly isThinned: boolean;
  /** For each supporting note the voice that sings it; only where some of them are sung, undefined for one that is not. */
  readonly lines?: SungLines | undefined;
  /** Points of the grip itself: holding it, its voicing, its place in the texture. */
  readonly cost: number;
  /** Where the hand is, mm from the nut; undefined where nothing sounds. */
  readonly placeMm: number | undefined;
  /** What each finger stops, index finger first, 0 where it is not down; see `finger-use.ts`. */
  readonly fingerUses: readonly number[];
}

/** The voices of a grip; a player's own grip may have notes between them that are nobody's. */
export type SungLines = readonly (SungLine | undefined)[];

/** A voice under the melody, and how far from where it sings the guitar has it. */
export interface SungLine {
  readonly voice: number;
  readonly octaves: number;
  /** As sung, spelling and all. */
  readonly pitch: Pitch;
  readonly isBassLine: boolean;
}

/** Where a hand may wait while only open strings sound: the index finger at one of these frets. */
const WAITING_FRETS = [1, 3, 5, 7, 9, 12];

/**
 * Completes a candidate with what the moves between grips need to know; it becomes several, one for each place of the
 * hand.
 */
export function candidates(instrument: Instrument, given: BareCandidate): readonly Candidate[] {
  const { attack, strings, fingers, midis, degrees, heldStrings, heldFrom, lines, cost } = given;
  const supports = given.supports ?? supportsOf(given);
  const isThinned = heldFrom?.includes(supports.name) === false;
  const uses = fingerUses(strings, fingers);
  // Named one by one, since the engine is slow at copying what another object has.
  return handPlacesMm(instrument, strings, fingers).map((placeMm) => ({
    attack,
    strings,
    fingers,
    midis,
    degrees,
    heldStrings,
    supports,
    heldFrom,
    isThinned,
    lines,
    cost,
    placeMm,
    fingerUses: uses,
  }));
}

/**
 * The places where the hand may be on a grip, mm from the nut: one; but over open strings alone it is free to be
 * anywhere on its way, so that there are several to wait at. undefined where nothing sounds.
 */
export function handPlacesMm(
  instrument: Instrument,
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
): readonly (number | undefined)[] {
  const placeMm = handPlaceMm(instrument, strings, fingers);
  if (placeMm !== undefined || strings.length === 0) return [placeMm];
  return WAITING_FRETS.map((fret) => fretPositionMm(instrument, fret));
}

type BareCandidate = Pick<
  Candidate,
  "attack" | "strings" | "fingers" | "midis" | "degrees" | "cost" | "heldStrings" | "heldFrom" | "lines"
> & { readonly supports?: Supports | undefined };

/** Where the melody note is; undefined for a chord in a rest of the melody. */
export const melodyString = (given: Candidate): SoundingString | undefined =>
  given.degrees.length < given.strings.length ? given.strings.at(-1) : undefined;

export const melodyFinger = (given: Candidate): Finger => given.fingers.at(-1) ?? 0;

/** Whether what a string sounds rings on from the event before. */
export const isRingingOn = (given: Candidate, string: number | undefined): boolean =>
  given.attack === "held" || (string !== undefined && given.heldStrings?.includes(string) === true);

export const supportCount = (given: Candidate): number => given.degrees.length;

/** Whether all supporting notes of a grip are sung. */
export const areAllSung = (lines: SungLines | undefined): boolean =>
  lines?.every((line) => line !== undefined) === true;

/** Whether anything of a grip was struck at the event before. */
export const ringsFromBefore = (grip: Candidate): boolean =>
  grip.attack === "held" || grip.heldStrings !== undefined || grip.heldFrom !== undefined;

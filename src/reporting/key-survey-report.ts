import type { Arrangement } from "../arrangement/arrangement.js";
import { movesOf, placementsAt } from "../arrangement/hand-moves.js";
import { keptOfEnsemble } from "../arrangement/kept-of-ensemble.js";
import type { SurveyedPlace } from "../arrangement/surveyed-place.js";
import type { Finding } from "../diagnostics.js";
import { tonicOf } from "../song/key-name.js";
import { nameOf, transposeName } from "../song/pitch.js";
import type { KeyMark, Tune } from "../song/tune.js";
import { hardestOf, type MoveReport } from "./hardest-move.js";
import { momentAt } from "./moment.js";
import { rounded } from "./rounded.js";

/** What a tune would be like to play in each key, the easiest first; described by `KEYS_SCHEMA`. */
export interface KeySurvey {
  readonly title?: string;
  /** The key as written, in words. */
  readonly key: string;
  /** All twelve. */
  readonly keys: readonly KeyEntry[];
  readonly findings: readonly Finding[];
}

export interface KeyEntry {
  /** In words, such as "Eb major". */
  readonly key: string;
  /** The same as a value of the option `key`. */
  readonly option: string;
  /** Whether the melody lies on its strings at some octave. */
  readonly fits: boolean;
  /** Melody notes off the strings at the octave with the fewest; where the key does not fit. */
  readonly notesOutside?: number;
  /** Each octave that fits, the cheapest first. */
  readonly places: readonly PlaceReport[];
  /** A capo that makes the first place cheaper, sounding the same. */
  readonly capo?: CapoReport;
}

export interface PlaceReport {
  /** From the written pitch, octaves included. */
  readonly semitones: number;
  /** Effort in points; compares arrangements of one tune. */
  readonly cost: number;
  readonly hardestMove?: MoveReport;
  /** Share of the melody notes that are struck with a chord or lie over one that rings on, 0 to 1. */
  readonly harmonised: number;
  /** Open strings in use, 1 the highest. */
  readonly openStrings: readonly number[];
  /** Share of the moments at which one of them sounds, 0 to 1. */
  readonly openMoments: number;
  /** What is kept of an ensemble; only in the texture of the voices, and of a bass under the tune. */
  readonly ensemble?: EnsembleReport;
}

/** What of the voices is kept; shares of the beats at which anything is sung, 0 to 1. */
export interface EnsembleReport {
  /** The ensemble's bass is the lowest pitch class. */
  readonly bassKept: number;
  /** Every pitch class that is sung sounds. */
  readonly tonesKept: number;
  /** Notes of the bass, and those of them that the strings do not have at their pitch. */
  readonly bassNotes: number;
  readonly bassOutOfReach: number;
}

/** What an arrangement was made from where voices are to be kept: the tune, moved, and how its bass lies. */
export interface KeptVoices {
  readonly tune: Tune;
  readonly bassNotes: number;
  readonly bassOutOfReach: number;
}

export interface CapoReport {
  readonly fret: number;
  /** The key whose shapes the hand plays. */
  readonly shapes: string;
  readonly cost: number;
}

/** The figures of one place; `voices` where an ensemble, or a bass under the tune, is to be kept. */
export function placeReport(
  tune: Tune,
  { transposition, arrangement }: SurveyedPlace,
  tempo: number | undefined,
  voices: KeptVoices | undefined,
): PlaceReport {
  const { events, cost } = arrangement;
  const momentOf = (index: number) => momentAt(tune, events[index]?.onset ?? 0);
  const hardestMove = hardestOf(movesOf(tune, arrangement, tempo), momentOf);
  const harmonised = events.filter(
    ({ attack, melodyNote, onset }) =>
      (attack === "struck" || attack === "held") && tune.melody[melodyNote ?? -1]?.onset === onset,
  ).length;
  const openAt = events.map((event) =>
    placementsAt(arrangement, event)
      .filter(({ fret }) => fret === 0)
      .map(({ string }) => string),
  );
  return {
    semitones: transposition.semitones,
    cost,
    ...(hardestMove === undefined ? {} : { hardestMove }),
    harmonised: share(harmonised, tune.melody.length),
    openStrings: [...new Set(openAt.flat())].sort((one, other) => one - other),
    openMoments: share(openAt.filter((strings) => strings.length > 0).length, events.length),
    ...(voices === undefined ? {} : { ensemble: ensembleReport(voices, arrangement) }),
  };
}

function ensembleReport(
  { tune, bassNotes, bassOutOfReach }: KeptVoices,
  arrangement: Arrangement,
): EnsembleReport {
  const { beats, withoutBass, withoutTone } = keptOfEnsemble(tune, arrangement);
  return {
    bassKept: share(beats - withoutBass.length, beats),
    tonesKept: share(beats - withoutTone.length, beats),
    bassNotes,
    bassOutOfReach,
  };
}

const share = (part: number, whole: number): number => (whole === 0 ? 0 : rounded(part / whole));

/** A key, moved by an interval, as the option `key` takes it: "Eb", "F#m". */
export function tonicText({ fifths, mode }: KeyMark, interval: string): string {
  const tonic = transposeName(tonicOf(fifths, mode ?? "major"), interval);
  return `${nameOf(tonic)}${mode === "minor" ? "m" : ""}`;
}

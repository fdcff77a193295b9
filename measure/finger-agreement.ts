import { COSTS, type CostTable } from "#built/arranging/costs/cost-table.js";
import { fingeringsOf, type SoundingString } from "#built/guitar/fingering.js";
import type { Finger } from "#built/guitar/grip.js";
import { holdingEffort } from "#built/guitar/hand-effort.js";
import { type Instrument, midiAt } from "#built/guitar/instrument.js";
import type { FingeredChord } from "./fingered-chord.js";

/** Where the hand model stands against one chord that somebody fingered. Ranks count from 1. */
export interface Agreement {
  readonly chord: FingeredChord;
  /** Rank of the written fingers among all at the written strings and frets; undefined: held to be impossible. */
  readonly fingersRank: number | undefined;
  /** The model's first choices at the written strings and frets, easiest first. */
  readonly choices: readonly (readonly Finger[])[];
  /** Rank of the written strings and frets among all places where the same pitches can be held. */
  readonly placementRank: number | undefined;
}

/** The highest fret the placements go to: the default of the option `frets`. */
const FRETS = 15;

export function agreementWith(chord: FingeredChord, costs: CostTable = COSTS): Agreement {
  const instrument: Instrument = {
    openStrings: chord.tuning,
    frets: FRETS,
    scaleLengthMm: 650,
    capo: 0,
    fretSpacing: "real",
    hasOpenStrings: true,
    bodyFret: 12,
  };
  const ways = waysToHold(instrument, chord.strings, costs);
  const fingersAt = ways.findIndex((way) => isSame(way.fingers, chord.fingers));
  const pitches = chord.strings.map((note) => midiAt(instrument, note.string, note.fret));
  const placements = placementsOf(instrument, pitches)
    .flatMap((strings) => {
      const [best] = waysToHold(instrument, strings, costs);
      return best === undefined ? [] : [{ strings, effort: best.effort }];
    })
    .toSorted((a, b) => a.effort - b.effort);
  const placementAt = placements.findIndex(({ strings }) => nameOf(strings) === nameOf(chord.strings));
  return {
    chord,
    fingersRank: fingersAt < 0 ? undefined : fingersAt + 1,
    choices: ways.slice(0, 3).map((way) => way.fingers),
    placementRank: placementAt < 0 ? undefined : placementAt + 1,
  };
}

/** Every way to finger some strings, easiest first; of equals, the one that counts from the index up. */
function waysToHold(instrument: Instrument, strings: readonly SoundingString[], costs: CostTable) {
  return fingeringsOf(instrument, strings)
    .map((fingers) => ({ fingers, effort: holdingEffort(instrument, strings, fingers, costs.hand) }))
    .toSorted((a, b) => a.effort - b.effort);
}

/** Every way to lay some pitches on as many strings, lowest string first. */
function placementsOf(
  instrument: Instrument,
  pitches: readonly number[],
): readonly (readonly SoundingString[])[] {
  const [pitch, ...others] = pitches;
  if (pitch === undefined) return [[]];
  return placementsOf(instrument, others).flatMap((placed) =>
    instrument.openStrings.flatMap((_, index) => {
      const string = index + 1;
      const fret = pitch - midiAt(instrument, string, 0);
      const isFree = placed.every((note) => note.string !== string);
      if (!isFree || fret < 0 || fret > instrument.frets) return [];
      return [[...placed, { string, fret }].toSorted((a, b) => b.string - a.string)];
    }),
  );
}

const isSame = (one: readonly Finger[], other: readonly Finger[]): boolean =>
  one.every((finger, index) => finger === other[index]);

const nameOf = (strings: readonly SoundingString[]): string =>
  strings.map(({ string, fret }) => `${string}:${fret}`).join(" ");

import {
  chordDigest,
  type Digests,
  melodyDigest,
  symbolText,
  unchangedMeasures,
} from "../arrangement/measure-digests.js";
import type { GuitarScore } from "../guitar/guitar-score.js";
import { measureIndexAt } from "../song/measure-place.js";
import type { Tune } from "../song/tune.js";
import { tuneTick } from "./guitar-part-notes.js";

/** What of the tune is no longer what the guitar part was made from. */
export interface TuneChanges {
  /** Whether another chord is in force at a tick than when the guitar part was made. */
  readonly isChordChangedAt: (tick: number) => boolean;
  /** Whether the melody of a measure is as it was; undefined where nothing says. */
  readonly isMelodyUnchanged: (measure: number) => boolean | undefined;
  /** Ticks at which the guitar part shows other chord symbols than the tune, which has not changed. */
  readonly symbolsBesideTune: readonly number[];
}

/**
 * Compares the tune with what the guitar part was made from: with the digests in the score where it has
 * them, else with the chord symbols over the guitar part itself.
 */
export function tuneChanges(tune: Tune, returned: GuitarScore, digests: Digests | undefined): TuneChanges {
  const melody = digests === undefined ? undefined : unchangedMeasures(digests.melody, melodyDigest(tune));
  const chords = digests === undefined ? undefined : unchangedMeasures(digests.chords, chordDigest(tune));
  const spans = returned.chords.map(({ start, measure, symbol }) => ({
    start: tuneTick(returned, tune, measure, start) ?? Number.POSITIVE_INFINITY,
    symbol,
  }));
  const differs = (tick: number): boolean => {
    const shown = spans.findLast(({ start }) => start <= tick);
    const meant = tune.chords.findLast(({ start }) => start <= tick);
    if (shown === undefined && meant === undefined) return false;
    return symbolText(shown?.symbol) !== symbolText(meant?.symbol);
  };
  const measureAt = (tick: number) => measureIndexAt(tune, tick);
  // Where the digests say that the symbols of the tune are what they were, the guitar's own count for nothing.
  const isKnownSame = (tick: number) => chords?.[measureAt(tick)] === true;
  const isKnownOther = (tick: number) => chords?.[measureAt(tick)] === false;
  /** Whether the guitar's own symbols show where in a changed measure the change is. */
  const isShown = (tick: number): boolean => {
    const measure = tune.measures[measureAt(tick)];
    if (measure === undefined) return false;
    const starts = [...spans, ...tune.chords].map(({ start }) => start);
    const isHere = (at: number) => at > measure.start && at < measure.start + measure.length;
    return [measure.start, ...starts.filter(isHere)].some(differs);
  };
  return {
    isChordChangedAt: (tick) =>
      !isKnownSame(tick) && (differs(tick) || (isKnownOther(tick) && !isShown(tick))),
    isMelodyUnchanged: (measure) => melody?.[measure],
    symbolsBesideTune: tune.chords.map(({ start }) => start).filter((at) => isKnownSame(at) && differs(at)),
  };
}

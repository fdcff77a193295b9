import type { ChordSpan, Measure } from "../../song/tune.js";
import { childText, descendantAt, textOf, type XmlElement } from "../../xml/xml-tree.js";
import type { Quarters } from "../timeline/exact-time.js";
import { tempoOf } from "../timeline/tempo.js";
import type { Ticks } from "../timeline/ticks.js";
import type { WalkedMeasure, WalkedPart } from "../timeline/walked-part.js";
import { type PlacedHarmony, timeIn } from "./chord-spans.js";

/** What a score is called: its work's title, else its movement's. */
export const titleOf = (score: XmlElement): string | undefined => {
  const work = descendantAt(score, "work", "work-title");
  return (work && textOf(work).trim()) || childText(score, "movement-title") || undefined;
};

export interface TimedTempo {
  /** In the bars of the part that is read. */
  readonly at: Quarters;
  /** Quarter notes a minute. */
  readonly tempo: Quarters;
}

/** Tempo marks in the time of `home`: those of the first part that has any; of several at one time the last. */
export function temposIn(parts: readonly WalkedPart[], home: WalkedPart): readonly TimedTempo[] {
  for (const part of parts) {
    const tempos = part.directions.flatMap(({ at, element }): readonly TimedTempo[] => {
      const tempo = tempoOf(element);
      return tempo === undefined ? [] : [{ at: timeIn(home, part, at), tempo }];
    });
    if (tempos.length > 0) return tempos.filter((tempo, index) => !tempos[index + 1]?.at.equals(tempo.at));
  }
  return [];
}

export const tuneMeasure = (
  { index, label, start, length, meter }: WalkedMeasure,
  ticks: Ticks,
): Measure => ({ index, label, start: ticks(start), length: ticks(length), meter });

/** From each chord that drives the harmony to the next, the last one to the end of the part. */
export const chordSpans = (
  driving: readonly PlacedHarmony[],
  part: WalkedPart,
  ticks: Ticks,
): readonly ChordSpan[] =>
  driving.map(({ at, measure, chord }, index) => ({
    index,
    start: ticks(at),
    end: ticks(driving[index + 1]?.at ?? part.end),
    symbol: chord === "no-chord" ? undefined : chord,
    measure,
  }));

/** What was counted over many scores, and where. */
export interface Tally {
  /** Counts one more of something, or a number of it; `place` names where, for the list. */
  readonly count: (what: string, place?: string, by?: number) => void;
  readonly of: (what: string) => number;
  readonly placesOf: (what: string) => readonly string[];
  readonly names: () => readonly string[];
}

export function newTally(): Tally {
  const counts = new Map<string, number>();
  const places = new Map<string, string[]>();
  return {
    count: (what, place, by = 1) => {
      counts.set(what, (counts.get(what) ?? 0) + by);
      if (place === undefined) return;
      const known = places.get(what);
      if (known === undefined) places.set(what, [place]);
      else known.push(place);
    },
    of: (what) => counts.get(what) ?? 0,
    placesOf: (what) => places.get(what) ?? [],
    names: () => [...counts.keys()].sort((a, b) => a.localeCompare(b)),
  };
}

/** A part of a whole as a number; NaN where there is no whole. */
export const ratio = (tally: Tally, part: string, whole: string): number =>
  tally.of(part) / (tally.of(whole) === 0 ? Number.NaN : tally.of(whole));

/** A part of a whole in per cent, two places. */
export const share = (tally: Tally, part: string, whole: string): string =>
  percent(ratio(tally, part, whole));

export const percent = (part: number): string =>
  Number.isNaN(part) ? "none" : `${(100 * part).toFixed(2)} %`;

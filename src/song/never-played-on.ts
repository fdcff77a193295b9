import type { Tune } from "./tune.js";

/**
 * Whether written neighbours are never played one after the other: a jump back leaves between them and a
 * jump forward arrives there, as where a first ending stands before a second. Times in ticks.
 */
export const neverPlayedOn = ({ jumps }: Pick<Tune, "jumps">, from: number, to: number): boolean =>
  jumps.some(
    (back) =>
      back.from > from &&
      back.from <= to &&
      back.to < back.from &&
      jumps.some((forward) => forward.to === back.from && forward.from < forward.to),
  );

import { countUntil } from "./in-time-order.js";
import type { Tune } from "./tune.js";

/** Quarter notes a minute where neither the score nor the options say; the options table promises it. */
export const TEMPO_UNSAID = 100;

/**
 * Seconds from one tick to a later one of the written score, by its tempo marks or by one tempo in their
 * place. Before the first mark its tempo counts already.
 */
export function secondsBetween(
  tune: Pick<Tune, "ticksPerQuarter" | "tempos">,
  from: number,
  to: number,
  tempo: number | undefined,
): number {
  const secondsAt = (ticks: number, quartersPerMinute: number) =>
    ((ticks / tune.ticksPerQuarter) * 60) / quartersPerMinute;
  const { tempos } = tune;
  const [first] = tempos;
  if (tempo !== undefined || first === undefined) return secondsAt(to - from, tempo ?? TEMPO_UNSAID);
  let seconds = 0;
  let since = from;
  let next = Math.max(
    1,
    countUntil(tempos, from, ({ at }) => at),
  );
  let current = (tempos[next - 1] ?? first).quartersPerMinute;
  for (; next < tempos.length; next += 1) {
    const mark = tempos[next];
    if (mark === undefined || mark.at >= to) break;
    seconds += secondsAt(mark.at - since, current);
    since = mark.at;
    current = mark.quartersPerMinute;
  }
  return seconds + secondsAt(to - since, current);
}

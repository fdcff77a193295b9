import type { GuitarScore } from "../guitar/guitar-score.js";
import { handPlaceMm } from "../guitar/hand-place.js";
import { fretPositionMm, type Instrument } from "../guitar/instrument.js";
import { neverPlayedOn } from "../song/never-played-on.js";
import { secondsBetween } from "../song/playing-time.js";
import type { Measures } from "./judged-score.js";
import { isStopped, type Moment } from "./moments.js";

/** The hand on its way from one stopped grip to the next that is played. */
export interface HandMove {
  readonly from: Moment;
  readonly to: Moment;
  /** Along the neck. */
  readonly moveMm: number;
  readonly secondsAvailable: number;
}

/**
 * Every move of the hand: between moments with stopped strings that follow one another, repeats and
 * endings counted. Over open strings alone the hand is free, and their time is travelling time.
 */
export function handMoves(
  score: GuitarScore,
  moments: readonly Moment[],
  { instrument, tempo }: Pick<Measures, "instrument" | "tempo">,
): readonly HandMove[] {
  const stopped = moments.filter(({ held }) => held.some(isStopped));
  const seconds = (from: number, to: number) => secondsBetween(score, from, to, tempo);
  const move = (from: Moment, to: Moment, secondsAvailable: number): HandMove => ({
    from,
    to,
    moveMm: Math.abs(placeMm(to, instrument) - placeMm(from, instrument)),
    secondsAvailable,
  });
  const inOrder = stopped.slice(1).flatMap((to, index) => {
    const from = stopped[index];
    return from === undefined || neverPlayedOn(score, from.onset, to.onset)
      ? []
      : [move(from, to, seconds(from.onset, to.onset))];
  });
  const jumped = score.jumps.flatMap((jump) => {
    const from = stopped.findLast(({ onset }) => onset < jump.from);
    const to = stopped.find(({ onset }) => onset >= jump.to);
    return from === undefined || to === undefined || from === to
      ? []
      : [move(from, to, seconds(from.onset, jump.from) + seconds(jump.to, to.onset))];
  });
  return [...inOrder, ...jumped];
}

/** Where the index finger lies, mm from the nut; without fingers, at the lowest stopped fret. */
function placeMm({ held }: Moment, instrument: Instrument): number {
  const stopped = held.filter(isStopped);
  const fingers = stopped.flatMap(({ finger }) => finger ?? []);
  const byFinger = fingers.length === stopped.length ? handPlaceMm(instrument, stopped, fingers) : undefined;
  return byFinger ?? fretPositionMm(instrument, Math.min(...stopped.map(({ fret }) => fret)));
}

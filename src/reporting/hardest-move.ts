import type { Move } from "../arrangement/hand-moves.js";
import type { Moment } from "./moment.js";
import { rounded } from "./rounded.js";

export interface MoveReport {
  readonly from: Moment;
  readonly to: Moment;
  /** Along the neck. */
  readonly moveMm: number;
  readonly secondsAvailable: number;
  readonly mmPerSecond: number;
}

/** The move that asks for the greatest speed; undefined where the hand never moves. `momentOf` takes an event's index. */
export function hardestOf(
  moves: readonly Move[],
  momentOf: (index: number) => Moment,
): MoveReport | undefined {
  const speed = ({ moveMm, secondsAvailable }: Move) => moveMm / secondsAvailable;
  const hardest = moves
    .filter(({ moveMm, secondsAvailable }) => moveMm > 0 && secondsAvailable > 0)
    .reduce<Move | undefined>(
      (most, move) => (most === undefined || speed(move) > speed(most) ? move : most),
      undefined,
    );
  if (hardest === undefined) return undefined;
  return {
    from: momentOf(hardest.from),
    to: momentOf(hardest.to),
    moveMm: rounded(hardest.moveMm),
    secondsAvailable: rounded(hardest.secondsAvailable),
    mmPerSecond: rounded(speed(hardest)),
  };
}
